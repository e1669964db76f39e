# Two commands are promised: `make run` and `make test`. Each sets up what it needs and nothing else.

PYTHON ?= python3.11
PORT ?= 8462
BIN := .venv/bin
EXAMPLE := examples/1-river-coaster
STATIC := src/leadsman/web/static/index.html
PAGE_SOURCES := $(shell find page -type f -not -path '*/node_modules/*' 2>/dev/null)

.PHONY: run test check validate bench pictures setup page browser lock clean

run: .venv/.runtime $(STATIC)            ## set up, assess the first example, write its pack, serve the page
	$(BIN)/leadsman assess $(EXAMPLE) || test $$? -eq 1
	$(BIN)/leadsman print $(EXAMPLE) -o out || test $$? -eq 1
	$(BIN)/leadsman serve examples --port $(PORT)

test: .venv/.development $(STATIC) browser  ## set up, check style and types, run every test
	$(BIN)/ruff check .
	$(BIN)/mypy
	cd page && npm run --silent check
	$(BIN)/python -m pytest -q

check: .venv/.development                ## style and types alone
	$(BIN)/ruff check .
	$(BIN)/mypy

validate: .venv/.development             ## compare with the outside world, write docs/validation.md
	$(BIN)/python studies/validate.py

bench: .venv/.development                ## the timings users feel, as ratios
	$(BIN)/python benchmarks/bench.py

pictures: .venv/.development browser     ## renew the kept pictures of the sheets; look at out/pictures.png before keeping them
	RENEW_PICTURES=yes $(BIN)/python -m pytest -q tests/documents/test_pictures.py

page: $(STATIC)

.venv/.created:
	$(PYTHON) -m venv .venv || python3 -m venv .venv
	touch $@

.venv/.runtime: requirements.lock pyproject.toml | .venv/.created
	$(BIN)/pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	$(BIN)/pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	touch $@

.venv/.development: requirements-dev.lock pyproject.toml | .venv/.created
	$(BIN)/pip install --quiet --disable-pip-version-check --require-hashes -r requirements-dev.lock
	$(BIN)/pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	touch $@ .venv/.runtime

page/node_modules/.installed: page/package-lock.json
	cd page && npm ci --no-fund --no-audit --loglevel=error
	touch $@

$(STATIC): page/node_modules/.installed $(PAGE_SOURCES)
	cd page && npm run --silent build
	touch $@

browser:                                 ## headless Chromium, from the system's own packages
	@command -v chromium >/dev/null || { \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
	    apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq chromium >/dev/null; \
	  else echo "The page's tests need chromium: sudo apt-get install chromium"; exit 1; fi; }

lock: .venv/.development                 ## renew the lock files; no registry is named in them
	$(BIN)/pip-compile -q --generate-hashes --allow-unsafe --strip-extras --no-header --no-emit-index-url \
	  --no-emit-trusted-host --no-emit-find-links --extra store --extra dev -o requirements-dev.lock pyproject.toml
	$(BIN)/pip-compile -q --generate-hashes --allow-unsafe --strip-extras --no-header --no-emit-index-url \
	  --no-emit-trusted-host --no-emit-find-links --extra build -c requirements-dev.lock -o requirements.lock pyproject.toml

clean:
	rm -rf .venv page/node_modules page/dist src/leadsman/web/static out .mypy_cache .ruff_cache .pytest_cache
