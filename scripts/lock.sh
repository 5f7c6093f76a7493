#!/bin/sh
# Pins requirements*.in into requirements*.txt: newest versions that fit together on Python 3.11 to 3.14 and on every
# platform, with hashes and with no index named in them. The tool that does it has an environment of its own.
set -eu
cd "$(dirname "$0")/.."
python=$(sh scripts/setup.sh python)
tools=$(mktemp -d)
trap 'rm -rf "$tools"' EXIT
"$python" -m venv "$tools"
"$tools/bin/python" -m pip install --quiet --disable-pip-version-check 'uv==0.13.9'
pin() { # pin OUT IN...
    out=$1
    shift
    "$tools/bin/uv" pip compile --quiet --upgrade --universal --python-version 3.11 --generate-hashes \
        --no-header --no-annotate --no-emit-index-url --output-file "$out" "$@"
}
pin requirements.txt requirements.in
pin requirements-dev.txt --constraints requirements.txt requirements-dev.in
