# Evenhand. `make help` lists what there is; `make run` and `make test` do all their set-up themselves.
SHELL := /bin/sh
.DEFAULT_GOAL := help
.PHONY: help setup run test slow bench check format lock need-git

PORT ?= 8000
ADDRESS ?= 127.0.0.1
TESTS ?=
BIN := .venv/bin

help: ## what there is to make
	@sed -n 's/^\([a-z]*\):[^#]*## \(.*\)/make \1|\2/p' Makefile | awk -F'|' '{ printf "  %-14s %s\n", $$1, $$2 }'
	@echo '  make run PORT=8123     serves elsewhere;  ADDRESS=0.0.0.0 lets phones on the same network in'
	@echo '  make test TESTS=tests/craft    only those'

setup: need-git ## the virtual environment with all that running, tests and checks need
	@sh scripts/setup.sh dev

run: ## sets up what is missing, then serves at http://localhost:8000 with a demo along
	@sh scripts/setup.sh run
	@exec $(BIN)/evenhand serve --demo --host $(ADDRESS) --port $(PORT)

test: setup ## the tests (browser tests need Chromium on this machine)
	@$(BIN)/python -m pytest --numprocesses 2 --dist worksteal $(TESTS)

slow: setup ## the long fuzzing and load tests
	@$(BIN)/python -m pytest -m slow $(TESTS)

bench: setup ## ratios: pages against an empty route, writes against bare SQLite, a room against bare sockets
	@$(BIN)/python -m tests.bench
	@$(BIN)/python -m tests.bench.room

check: setup ## format, lint, types, layers, templates, migrations
	@sh scripts/check.sh

format: setup ## formats the Python code
	@$(BIN)/ruff format . && $(BIN)/ruff check --fix --exit-zero --quiet .

lock: ## pins the newest packages that fit, with hashes, for Python 3.11 to 3.14
	@sh scripts/lock.sh

need-git:
	@command -v git >/dev/null || { echo 'evenhand: git is needed. Install it: sudo apt-get install git' >&2; exit 1; }
