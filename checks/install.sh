#!/bin/sh
# Puts the readers in place that the tests hold our files against: Node.js with
# the modules pinned beside this file, and the programs listed below. What is
# missing is installed by apt when this runs as root; else it says what to
# install, and the tests that need it are skipped. With STALLWRIGHT_READERS set,
# as .ci/run does, a missing one is an error.
set -eu
cd "$(dirname "$0")"

# program:Debian package
wanted="node:nodejs npm:npm soffice:libreoffice-calc-nogui pdftotext:poppler-utils qpdf:qpdf zbarimg:zbar-tools qemu-aarch64-static:qemu-user-static chromium:chromium"

# shellcheck disable=SC2086 # a list
sh ../scripts/need.sh $wanted || [ -z "${STALLWRIGHT_READERS:-}" ] || exit 1
if command -v npm >/dev/null 2>&1; then
	# npm ci takes seconds: only when what is pinned is not what is there.
	if [ ! -f node_modules/.pinned ] || ! cmp -s package-lock.json node_modules/.pinned; then
		npm ci --no-audit --no-fund --silent
		cp package-lock.json node_modules/.pinned
	fi
fi
