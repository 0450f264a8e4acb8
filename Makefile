# Everything here goes through `make setup`, which fills .venv and node_modules and changes nothing else on the machine.

DESK := PATH="$(CURDIR)/.venv/bin:$$PATH"
PORT ?= 8000
FLIGHTS ?= 100000

# The theme would otherwise print a notice on its maintenance at each build.
export NO_MKDOCS_2_WARNING := 1

.DEFAULT_GOAL := help
.PHONY: help setup build site test lint statements bench soak picture mutate pins clean

help: ## say what there is
	@awk -F ':.*## ' '/^[a-z]+:.*## / { printf "make %-10s  %s\n", $$1, $$2 }' $(firstword $(MAKEFILE_LIST))

# Asked from /, because a version manager's stand-in obeys the folder's .python-version and may refuse there.
setup: ## install the pinned parts into .venv and node_modules, if anything is missing
	@for name in python3 python3.13 python3.14 python3.12 python3.11 python; do \
	  python=$$(cd / && $$name -c 'import sys; sys.version_info >= (3, 11) and print(sys.executable)' 2>/dev/null); \
	  if [ -n "$$python" ]; then exec "$$python" -I pysim/wetwing_tools/desk/setup.py; fi; \
	done; \
	echo "setup: no Python 3.11 or newer runs here; install one, then try again" >&2; exit 1

build: setup ## build the site into site/
	@$(DESK) mkdocs build --strict --quiet

site: build ## build the site and serve it on this machine (PORT=8000)
	@$(DESK) python -m wetwing_tools.desk.serve site --port $(PORT)

test: setup ## check everything: style, types, floors, unit tests, the site, and the site in a browser
	@$(DESK) python -m wetwing_tools.desk.checks test

lint: setup ## check style, types and floors alone
	@$(DESK) python -m wetwing_tools.desk.checks lint

statements: setup ## list the sentences on behaviour that no check stands behind, and count the others
	@$(DESK) python -m wetwing_tools.site.statements --unchecked

bench: build ## print each speed as `name: figure (goal G)`
	@for script in tests/bench/bench_*.py; do $(DESK) python -m "$$(echo $${script%.py} | tr / .)" || exit 1; done

soak: setup ## fly random scripts with troubles and check every promise (FLIGHTS=100000)
	@$(DESK) python -m tests.flight.soak $(FLIGHTS)

picture: build ## draw the README's picture from the built site
	@$(DESK) python -m wetwing_tools.picture docs/assets/panel.png

# Run on a copy, so that no slip can stay behind in the tree, with parts that nothing else here needs.
MUTATION := .cache/mutation
mutate: setup ## put small slips into the simulation and count those the tests notice (ONLY=physics/suction.py SAMPLE=300 JOBS=2)
	@PATH="$$PATH:$(CURDIR)/.cache/uv-from-pip/bin"; \
	uv venv --quiet --allow-existing --python 3.13 $(MUTATION)/venv && \
	uv pip sync --quiet --require-hashes --python $(MUTATION)/venv/bin/python requirements/mutation.txt
	@rm -rf $(MUTATION)/tree && mkdir -p $(MUTATION)/tree && cp -R pysim tests pyproject.toml $(MUTATION)/tree
	@cd $(MUTATION)/tree && PYTHONPATH=pysim ONLY="$(ONLY)" SAMPLE="$(SAMPLE)" SEED="$(SEED)" JOBS="$(JOBS)" ../venv/bin/python -m tests.mutation

# No header and no index line: the files must hold no address of a registry.
PIN := uv pip compile --quiet --upgrade --universal --generate-hashes --no-emit-index-url --no-header --no-annotate
# Addresses of sponsors are addresses all the same.
WITHOUT_FUNDING := import json, pathlib; path = pathlib.Path('package-lock.json'); lock = json.loads(path.read_text()); \
  [part.pop('funding', None) for part in lock['packages'].values()]; path.write_text(json.dumps(lock, indent=2) + '\n')
pins: setup ## renew the pinned versions from pyproject.toml and package.json
	@PATH="$$PATH:$(CURDIR)/.cache/uv-from-pip/bin"; \
	$(PIN) --python-version 3.13 pyproject.toml --group site --group test -o requirements/desk.txt && \
	$(PIN) --python-version 3.13 --group pyproject.toml:mutation -o requirements/mutation.txt && \
	$(PIN) --python-version 3.13 --group pyproject.toml:node -o requirements/node.txt && \
	$(PIN) --python-version 3.11 --group pyproject.toml:uv -o requirements/uv.txt && \
	$(DESK) npm install --package-lock-only --no-progress --loglevel=error && \
	$(DESK) python -c "$(WITHOUT_FUNDING)"

clean: ## remove everything that make made
	rm -rf .venv node_modules .cache build site .pytest_cache .mypy_cache .ruff_cache .import_linter_cache .hypothesis
	find pysim tests docs -name __pycache__ -type d -prune -exec rm -rf {} +
