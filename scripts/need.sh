#!/bin/sh
# Installs Debian packages whose program is missing: need.sh program:package ...
# It does so by apt when it runs as root; else it says what to install and exits
# with 1.
set -eu
missing=""
for w in "$@"; do
	command -v "${w%%:*}" >/dev/null 2>&1 || missing="$missing ${w#*:}"
done
[ -n "$missing" ] || exit 0
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
	apt-get update -qq
	# shellcheck disable=SC2086 # a list
	DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
else
	echo "missing:$missing; on Debian: apt-get install$missing" >&2
	exit 1
fi
