# One command for each need. What a command runs, it installs first.
#
#   make run      build the page and serve it           make lint    formatting, vet, staticcheck
#   make test     every test, none skipped              make size    shipped bytes against their floor
#   make bench    speed against its floors              make fuzz    every fuzz target, FUZZTIME each
#   make soak     long runs: edits, kills               make screens every picture that the page tests take
#   make icons    the PNG icons from their drawing       make lighthouse  scores against their floors
#   make test-engines the main paths in Chromium, Firefox and WebKit     make clean    take out what was built

STATICCHECK_VERSION     := v0.8.2
WASMBROWSERTEST_VERSION := v0.11.0
AXE_VERSION             := 4.14.1
LIGHTHOUSE_VERSION      := 12.8.2
RELEASE                 := 0.1.0

PORT     ?= 8080
BUDGET   ?= 1.5
FUZZTIME ?= 10m
RUN      ?= .
KILLS    ?= 200
# How many tests of the page run side by side: they mostly wait.
BESIDE   ?= 3
SCREENS  ?= $(CURDIR)/testdata/screens

TOOLS           := $(CURDIR)/.tools
STATICCHECK     := $(TOOLS)/staticcheck-$(STATICCHECK_VERSION)/staticcheck
WASMBROWSERTEST := $(TOOLS)/wasmbrowsertest-$(WASMBROWSERTEST_VERSION)/wasmbrowsertest
AXE             := $(TOOLS)/axe-core-$(AXE_VERSION)/node_modules/axe-core/axe.min.js
LIGHTHOUSE      := $(TOOLS)/lighthouse-$(LIGHTHOUSE_VERSION)/node_modules/lighthouse/cli/index.js

SITE  := go run ./internal/site/cmd/site
WASM  := GOOS=js GOARCH=wasm
NODE   = $(shell go env GOROOT)/lib/wasm/go_js_wasm_exec
CORE   = $(shell go run ./internal/archtest/cmd/layers core)
SHELL_ = $(shell go run ./internal/archtest/cmd/layers shell)
# Packages with tests that need a browser around them, if they are there.
STORED = $(addsuffix /...,$(wildcard ./internal/dom ./internal/book/indexeddb))
PAGE   = ./internal/e2e/...
# What tests of the page are made from, unless dist/ was built just now.
BUILD  = $(if $(BUILT),,build)
# Without vet, which lint runs over all of it.
GOTEST = go test -vet=off

.PHONY: build run test suites-of-the-core suites-of-the-page test-native test-race test-node test-storage test-kill test-page test-engines \
	lighthouse lint bench size fuzz soak icons screens clean programs engines

build:
	$(SITE) build -release $(RELEASE)

run: build
	$(SITE) serve -port $(PORT)

# Side by side: the suites in a browser mostly wait for it. Each prints its lines
# when it is through.
test: programs engines build
	@$(MAKE) --no-print-directory -j3 --output-sync=target BUILT=1 suites-of-the-core suites-of-the-page test-kill
	@echo "== all suites passed: native, race, Node, storage, kill, page, engines"

suites-of-the-core:
	@set -e; for suite in test-native test-race test-node test-storage; do $(MAKE) --no-print-directory $$suite; done

suites-of-the-page:
	@set -e; for suite in test-page test-engines; do $(MAKE) --no-print-directory $$suite; done

test-native:
	@echo "== native"
	$(GOTEST) ./...

# The core has no goroutine of its own; these are called by several at once.
RACED = ./internal/book ./internal/screen
test-race: programs
	@echo "== the book and the screen, with the race detector"
	CGO_ENABLED=1 $(GOTEST) -race $(RACED)

test-node: programs
	@echo "== core, js/wasm in Node"
	$(WASM) $(GOTEST) -exec="$(NODE)" $(CORE)

test-storage: programs $(WASMBROWSERTEST)
	@echo "== storage and page helpers, js/wasm in Chromium"
	@for package in $(STORED); do \
		echo "$(WASM) go test $$package"; \
		$(WASM) $(GOTEST) -count=1 -exec="$(WASMBROWSERTEST)" $$package || exit 1; \
	done

# Chromium killed while it saves, so many times.
test-kill: programs
	@echo "== the book, Chromium killed $(KILLS) times while it saves"
	$(GOTEST) -count=1 -timeout 20m -tags kill ./internal/book/kill -rounds $(KILLS)

test-page: programs $(BUILD) $(AXE)
	@echo "== the whole page, in Chromium"
	AXE="$(AXE)" $(GOTEST) -count=1 -timeout 28m -parallel $(BESIDE) -tags e2e -run '$(RUN)' -skip '^TestEngines$$' $(PAGE)

# The main paths in all three engines.
test-engines: engines $(BUILD)
	@echo "== the main paths, in Chromium, Firefox and WebKit"
	$(GOTEST) -count=1 -timeout 10m -tags e2e -run '^TestEngines$$' -v $(PAGE)

# Debian's programs that the tests run.
programs:
	@.ci/tools

# The browsers of the other two engines, and a screen for them.
engines:
	@.ci/tools engines

$(STATICCHECK):
	GOBIN=$(dir $@) go install honnef.co/go/tools/cmd/staticcheck@$(STATICCHECK_VERSION)

$(WASMBROWSERTEST):
	GOBIN=$(dir $@) go install github.com/agnivade/wasmbrowsertest@$(WASMBROWSERTEST_VERSION)

# A rule book for accessibility; it runs in the tests' pages and does not ship.
$(AXE): | programs
	npm install --silent --no-audit --no-fund --ignore-scripts --no-save \
		--prefix $(TOOLS)/axe-core-$(AXE_VERSION) axe-core@$(AXE_VERSION)

# It starts browsers and looks at the page in them; it does not ship.
$(LIGHTHOUSE): | programs
	npm install --silent --no-audit --no-fund --ignore-scripts --no-save \
		--prefix $(TOOLS)/lighthouse-$(LIGHTHOUSE_VERSION) lighthouse@$(LIGHTHOUSE_VERSION)

lighthouse: programs $(BUILD) $(LIGHTHOUSE)
	LIGHTHOUSE="$(LIGHTHOUSE)" $(GOTEST) -count=1 -timeout 15m -tags e2e,lighthouse -run '^TestLighthouse$$' -v ./internal/e2e

lint: $(STATICCHECK)
	@echo "== gofmt"
	@files=$$(gofmt -l internal wasm); \
		if [ -n "$$files" ]; then echo "gofmt -w" $$files; exit 1; fi
	@echo "== native"
	go vet ./...
	$(STATICCHECK) ./...
	@echo "== js/wasm"
	$(WASM) go vet $(CORE) $(SHELL_)
	$(WASM) $(STATICCHECK) $(CORE) $(SHELL_)
	@echo "== whole-page tests and the kill harness"
	go vet -tags e2e,bench,soak,kill,lighthouse $(PAGE) ./internal/book/kill
	$(STATICCHECK) -tags e2e,bench,soak,kill,lighthouse $(PAGE) ./internal/book/kill

size: $(BUILD)
	$(SITE) size -budget $(BUDGET)

bench: programs build
	@echo "== native"
	go test -run '^$$' -bench . -benchmem ./internal/...
	@echo "== in Chromium"
	go test -count=1 -timeout 15m -tags e2e,bench -run '^TestBench' -v $(PAGE)

soak: programs build
	go test -count=1 -timeout 60m -tags kill ./internal/book/kill -rounds 1000
	go test -count=1 -timeout 30m -tags e2e,soak -run '^TestSoak' -v $(PAGE)

screens: programs build $(AXE)
	AXE="$(AXE)" SCREENS="$(SCREENS)" go test -count=1 -parallel $(BESIDE) -timeout 50m -tags e2e $(PAGE)

fuzz:
	@for package in $$(go list ./...); do \
		for target in $$(go test -list '^Fuzz' $$package | grep '^Fuzz'); do \
			echo "== $$package $$target, $(FUZZTIME)"; \
			go test -run '^$$' -fuzz "^$$target\$$" -fuzztime $(FUZZTIME) $$package || exit 1; \
		done; \
	done

icons: programs
	go run ./internal/site/cmd/icons

clean:
	rm -rf dist .tools
