# `make run` shows what the project does, `make test` is what a submission must pass. Both need only python3 with venv.

PYTHON ?= python3
# How many test processes: two, since the suite is meant to end within ten minutes on two cores.
JOBS ?= 2

BIN := .venv/bin
RUN_STAMP := .venv/.run-installed
TEST_STAMP := .venv/.test-installed

# What `make run` does; each can be given on the command line.
SHOP ?= build/shop
SHEETS ?= build/sheets
WRITE_ARGUMENTS ?= $(SHOP)/vehicles/kestrin-fallow.yaml $(SHOP)/kits/rookery-4.yaml \
	--with year=2014 body=sedan engine=3.3 trim=touring

BENCHMARKS := $(sort $(wildcard benchmarks/*.py))

# The lock ignores releases younger than this: a mirror may not have them yet, and a bad one is usually withdrawn by then.
LOCK_BEFORE ?= $(shell date -u -d '7 days ago' +%Y-%m-%dT00:00:00Z)
LOCK_TOOLS := build/lock-tools
COMPILE = $(LOCK_TOOLS)/bin/uv pip compile --quiet --universal --generate-hashes --python-version 3.11 \
	--no-emit-index-url --no-header --exclude-newer $(LOCK_BEFORE) --group build

.PHONY: setup setup-test run test check bench soak reference lock clean

setup: $(RUN_STAMP)

setup-test: $(TEST_STAMP)

$(RUN_STAMP): requirements.lock pyproject.toml
	test -x $(BIN)/python || $(PYTHON) -m venv .venv
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	touch $@

$(TEST_STAMP): requirements-test.lock $(RUN_STAMP)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements-test.lock
	touch $@

run: setup
	$(BIN)/loomwright demo $(SHOP) --replace
	$(BIN)/loomwright write $(WRITE_ARGUMENTS) --out $(SHEETS)
	@echo "For the same in a browser: $(BIN)/loomwright serve, or make run PORT=8017"
	$(if $(PORT),$(BIN)/loomwright serve --port $(PORT) --store build/loomwright.store)

# The tests come last, so that the closing line is the count of tests. The tests of a file share what they solve, so a
# file stays with one process; tests/conftest.py puts the longest files first, so that both end together.
test: check
	$(BIN)/python -m pytest -n $(JOBS) --dist loadfile --no-loadscope-reorder

check: setup-test
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/python -m pytest -q tests/test_layers.py

bench: setup-test
	@test -n "$(BENCHMARKS)" || echo "there is no script in benchmarks/"
	@set -e; for script in $(BENCHMARKS); do echo "== $$script"; $(BIN)/python $$script; done

# The pages of docs/reference are made from the code; a test compares them.
reference: setup
	$(BIN)/python -m tools.reference

soak: setup-test
	$(BIN)/python -m pytest -m soak

lock:
	test -x $(LOCK_TOOLS)/bin/uv || { $(PYTHON) -m venv $(LOCK_TOOLS) && $(LOCK_TOOLS)/bin/python -m pip install --quiet uv; }
	$(COMPILE) pyproject.toml -o requirements.lock
	$(COMPILE) --extra test --constraint requirements.lock pyproject.toml -o requirements-test.lock

clean:
	rm -rf build dist .venv .mypy_cache .pytest_cache .ruff_cache .hypothesis src/*.egg-info
	find src tests -name __pycache__ -prune -exec rm -rf {} +
