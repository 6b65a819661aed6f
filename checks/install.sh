#!/bin/sh
# Puts the readers in place that the tests hold our files against: Node.js with
# the modules pinned beside this file, and the programs listed below. What is
# missing is installed by apt when this runs as root; else it says what to
# install, and the tests that need it are skipped. With STALLWRIGHT_READERS set,
# as .ci/run does, a missing one is an error.
set -eu
cd "$(dirname "$0")"

# program:Debian package
wanted="node:nodejs npm:npm soffice:libreoffice-calc-nogui pdftotext:poppler-utils qpdf:qpdf zbarimg:zbar-tools qemu-aarch64-static:qemu-user-static"

missing=""
for w in $wanted; do
	command -v "${w%%:*}" >/dev/null 2>&1 || missing="$missing ${w#*:}"
done
if [ -n "$missing" ]; then
	if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
		apt-get update -qq
		# shellcheck disable=SC2086 # a list
		DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
	else
		echo "readers: missing$missing; on Debian: apt-get install$missing" >&2
		[ -z "${STALLWRIGHT_READERS:-}" ] || exit 1
	fi
fi
if command -v npm >/dev/null 2>&1; then
	# npm ci takes seconds: only when what is pinned is not what is there.
	if [ ! -f node_modules/.pinned ] || ! cmp -s package-lock.json node_modules/.pinned; then
		npm ci --no-audit --no-fund --silent
		cp package-lock.json node_modules/.pinned
	fi
fi
