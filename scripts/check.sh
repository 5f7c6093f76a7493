#!/bin/sh
# All that can be held without running the program. Every check is run, also after one that failed.
set -u
cd "$(dirname "$0")/.."
bin=.venv/bin
failed=""

check() { # check NAME COMMAND...
    name=$1
    shift
    printf -- '-- %s\n' "$name"
    "$@" || failed="$failed, $name"
}

check format $bin/ruff format --check --quiet .
check lint $bin/ruff check --quiet .
check types $bin/mypy
check layers $bin/lint-imports --no-logo
check templates $bin/python -m scripts.templates
check migrations $bin/python -m scripts.migrations
check 'tracked files' $bin/python -m scripts.tracked

if [ -n "$failed" ]; then
    printf 'not right yet: %s\n' "${failed#, }" >&2
    exit 1
fi
echo 'all checks passed'
