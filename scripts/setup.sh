#!/bin/sh
# Makes the virtual environment in .venv and installs the pinned packages into it. What is there already is left alone.
#   sh scripts/setup.sh run     what the server needs
#   sh scripts/setup.sh dev     that, and what the tests and checks need
#   sh scripts/setup.sh python  only prints the Python that would be used
# PYTHON=... chooses another Python. Several calls at once wait for each other.
set -eu
cd "$(dirname "$0")/.."

say() { printf 'evenhand: %s\n' "$*" >&2; }

find_python() {
    old=""
    bare=""
    for name in ${PYTHON:-python3 python3.14 python3.13 python3.12 python3.11}; do
        version=$("$name" -c 'import sys; print("%d.%d" % sys.version_info[:2])' 2>/dev/null) || continue
        if ! "$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))'; then
            old="${old:-$name is $version, and }"
        elif ! "$name" -c 'import ensurepip, venv' 2>/dev/null; then
            bare="${bare:-$name}"
        else
            printf '%s\n' "$name"
            return
        fi
    done
    if [ -n "$bare" ]; then
        say "$bare has no venv module (with ensurepip). Install it: sudo apt-get install $(basename "$bare")-venv"
    elif [ -n "$old" ]; then
        say "${old}Python 3.11 or newer is needed. Install it: sudo apt-get install python3.11 python3.11-venv"
    else
        say "Python 3.11 or newer is needed. Install it: sudo apt-get install python3 python3-venv"
    fi
    return 1
}

# The stamp says what was installed from what, and where: an environment does not survive being moved.
stamp_of() {
    printf '%s\n' "$PWD"
    cat "$@" | cksum
}

current() { # current STAMP FILE...: is that set installed, exactly from these files?
    stamp=$1
    shift
    [ -x .venv/bin/python ] && [ -f "$stamp" ] && [ "$(cat "$stamp")" = "$(stamp_of "$@")" ]
}

install() { # install FILE
    .venv/bin/python -m pip install --quiet --disable-pip-version-check --no-input --require-hashes -r "$1" &&
        .venv/bin/python -m pip install --quiet --disable-pip-version-check --no-input --no-deps \
            --no-build-isolation --editable . || {
        say "the packages in $1 could not be installed; pip says why just above. Is the package index within reach?"
        exit 1
    }
}

run_files="requirements.txt pyproject.toml"
dev_files="requirements.txt requirements-dev.txt pyproject.toml"
case "${1:-}" in
run) stamp=.venv/installed-run files=$run_files lock=requirements.txt ;;
dev) stamp=.venv/installed-dev files=$dev_files lock=requirements-dev.txt ;;
python) find_python && exit 0 || exit 1 ;;
*) say "say what to set up: run, dev or python" && exit 2 ;;
esac

# shellcheck disable=SC2086  # the lists of files are meant to be split
current "$stamp" $files && exit 0

if command -v flock >/dev/null 2>&1; then
    exec 9>.setup.lock
    flock 9
    # shellcheck disable=SC2086
    current "$stamp" $files && exit 0
fi

if ! [ -x .venv/bin/python ] || [ "$(cat .venv/made-in 2>/dev/null)" != "$PWD" ] ||
    ! .venv/bin/python -m pip --version >/dev/null 2>&1; then
    python=$(find_python)
    say "making a virtual environment with $python ($("$python" -V)) ..."
    "$python" -m venv --clear .venv
    printf '%s\n' "$PWD" >.venv/made-in
fi
say "installing the packages of $lock (once, well under a minute) ..."
rm -f .venv/installed-run .venv/installed-dev
install "$lock"
# shellcheck disable=SC2086
stamp_of $run_files >.venv/installed-run
# shellcheck disable=SC2086
[ "$1" = run ] || stamp_of $dev_files >.venv/installed-dev
