# Everything a person or a build server runs. Needs python3 (3.11 or later), pip and make only.
PY ?= python3
V := .venv
RUN := $(V)/bin/python
SOURCES := casebank accounts manage.py
# Line breaks after headings, empty elements that hold a drawing, and the type of a button:
# without one it submits its form, which is what ours do.
UNUSED_RULES := H015,H020,H043
WHEELS := --quiet --disable-pip-version-check --require-hashes --only-binary :all:

.PHONY: demo test lint fmt bench clean

# The site with demo people and cases; Ctrl-C stops it, a second run keeps the data.
demo: $(V)/.ok
	@$(RUN) manage.py up --demo

test: $(V)/.ok-dev
	$(RUN) -m pytest -n 2

lint: $(V)/.ok-dev
	$(RUN) -m ruff check
	$(RUN) -m ruff format --check
	$(RUN) -m mypy $(SOURCES)
	$(V)/bin/lint-imports
	find templates -name '*.html' -print0 | xargs -0 $(V)/bin/djade --check --target-version 5.2
	$(V)/bin/djlint templates --profile=django --lint --quiet --ignore=$(UNUSED_RULES)
	$(RUN) -W ignore::RuntimeWarning manage.py makemigrations --check --dry-run

fmt: $(V)/.ok-dev
	$(RUN) -m ruff check --fix --exit-zero
	$(RUN) -m ruff format
	find templates -name '*.html' -print0 | xargs -0 $(V)/bin/djade --target-version 5.2

bench: $(V)/.ok-dev
	$(RUN) -m bench

# The data in var/ stays.
clean:
	rm -rf $(V) .mypy_cache .ruff_cache .pytest_cache .hypothesis staticfiles

# Debian without python3-venv has no ensurepip: then the system's pip fills the environment.
$(V)/bin/python:
	@$(PY) -m venv $(V) >/dev/null 2>&1 || $(PY) -m venv --clear --without-pip $(V)

$(V)/.ok: requirements.txt | $(V)/bin/python
	@echo "Installing what requirements.txt pins."
	@if $(RUN) -m pip --version >/dev/null 2>&1; \
	then $(RUN) -m pip install $(WHEELS) -r $<; \
	else $(PY) -m pip --python $(RUN) install $(WHEELS) -r $<; fi
	@touch $@

$(V)/.ok-dev: requirements-dev.txt requirements.txt | $(V)/bin/python
	@echo "Installing what requirements-dev.txt pins."
	@if $(RUN) -m pip --version >/dev/null 2>&1; \
	then $(RUN) -m pip install $(WHEELS) -r $<; \
	else $(PY) -m pip --python $(RUN) install $(WHEELS) -r $<; fi
	@touch $@
