#!/bin/sh
# Puts PostgreSQL's server programs in place for the tests of the store and the app,
# which start a private cluster on a free port of loopback, and stop and remove it
# themselves. Nothing else is started here: Debian's own cluster is not needed and is
# not made. Where they are missing and cannot be installed, it says what to install,
# and those tests are skipped; with STALLWRIGHT_POSTGRES set a missing one is an error.
set -eu

for dir in /usr/lib/postgresql/*/bin; do
	[ -x "$dir/initdb" ] && exit 0
done
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
	apt-get update -qq
	# postgresql-common would make and start a cluster of its own on installing.
	mkdir -p /etc/postgresql-common
	[ -f /etc/postgresql-common/createcluster.conf ] || echo "create_main_cluster = false" >/etc/postgresql-common/createcluster.conf
	DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends postgresql >/dev/null
	exit 0
fi
echo "tests with PostgreSQL: its server is missing; on Debian: apt-get install postgresql" >&2
[ -z "${STALLWRIGHT_POSTGRES:-}" ]
