# make demo   install what is missing, build, plan the demo site, open the window where there is a display
# make test   set up, check and run every test (what continuous integration runs)
# make check  format, lints, arrows, house rules, generated files
# make fix    format and mend what can be mended by machine
# make bless  write the generated files anew
# make pictures  photograph every screen of the window into ui/pictures, from invented sites
# make test-heic  the lane of HEIC pictures: builds libheif, which takes minutes (make test leaves it out)
# make bench  speed and memory against their goals (release build)

SHELL := bash
.SHELLFLAGS := -euo pipefail -c
DEMO := target/demo
# Property tests draw the same cases on every machine; `make test SEED=7` draws others.
SEED := 1
export PROPTEST_RNG_SEED := $(SEED)
TAURI_DRIVER := target/tools/bin/tauri-driver
# A solver of mixed-integer programs, the witness of what the choice of feeds proves.
HIGHS := target/tools/highs/.installed
# A stand-in for an S3-compatible store.
STORE := target/tools/moto/.installed

.PHONY: demo test test-heic check fix bless bench window ui setup-build setup-test pictures

demo: setup-build ui
	cargo build --locked --bins
	target/debug/newel plan fixtures/demo/site.json --catalogue fixtures/demo/catalogue.toml
	target/debug/newel papers fixtures/demo/site.json --catalogue fixtures/demo/catalogue.toml --out $(DEMO)
	@echo "Written to $(DEMO): $$(ls $(DEMO) | tr '\n' ' ')"
	@if [ -n "$${DISPLAY:-}$${WAYLAND_DISPLAY:-}" ]; then \
	  echo "Opening the window."; target/debug/newel-window fixtures/demo/site.json; \
	else echo "There is no display here, so the window stays shut."; fi

test: setup-test ui check $(TAURI_DRIVER) $(HIGHS) $(STORE)
	cd ui && npm run --silent check && npm test --silent
	# One set of features for programs and tests, so that nothing heavy is compiled twice.
	cargo build --locked --workspace --bins --tests
	cargo test --locked --workspace
	.ci/fuzz

test-heic:
	.ci/setup heic
	cargo test --locked -p photos --features heic --test heic --test import

check: ui
	cargo fmt --all --check
	cargo clippy --locked --workspace --all-targets -- -D warnings
	.ci/arrows
	.ci/tidy
	.ci/generated --check

fix:
	cargo fmt --all
	cargo clippy --locked --workspace --all-targets --fix --allow-dirty --allow-staged

bless:
	.ci/generated

pictures: setup-test ui $(TAURI_DRIVER)
	cargo build --locked --bins
	cargo run --locked --example window_pictures

bench: setup-test ui $(HIGHS) $(TAURI_DRIVER)
	.ci/setup bench
	.ci/bench

window: setup-build ui
	cargo run --locked -p newel-window

ui: ui/node_modules/.package-lock.json
	cd ui && npm run --silent build

ui/node_modules/.package-lock.json: ui/package-lock.json
	cd ui && npm ci --no-audit --no-fund --silent

$(TAURI_DRIVER):
	cargo install --quiet --locked --root target/tools tauri-driver --version 2.1.0

$(HIGHS): | setup-test
	python3 -m venv $(@D)
	$(@D)/bin/pip install --quiet --disable-pip-version-check --only-binary :all: highspy==1.12.0
	touch $@

$(STORE): | setup-test
	python3 -m venv $(@D)
	$(@D)/bin/pip install --quiet --disable-pip-version-check --only-binary :all: moto[s3]==5.2.5 flask==3.1.3 flask-cors==6.0.5
	touch $@

setup-build:
	.ci/setup build

setup-test:
	.ci/setup test
