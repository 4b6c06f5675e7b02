# One command for each need. `make test` installs what it needs.

STATICCHECK     := honnef.co/go/tools/cmd/staticcheck@v0.8.2
WASMBROWSERTEST := github.com/agnivade/wasmbrowsertest@v0.11.0
RELEASE         := 0.1.0

PORT     ?= 8080
BUDGET   ?= 1.25
FUZZTIME ?= 30s
SCREENS  ?= testdata/screens

TOOLS   := $(CURDIR)/.tools
SITE    := go run ./internal/site/cmd/site
CORE     = $(shell go run ./internal/archtest/cmd/layers core)
STORED   = $(wildcard internal/dom internal/book/indexeddb)
WASM    := GOOS=js GOARCH=wasm
NODE    := "$(shell go env GOROOT)/lib/wasm/go_js_wasm_exec"
# The helpers for whole-page tests carry their own tags, so that plain
# `go test ./...` needs no browser.
E2E     := go test -count=1 -timeout 15m -tags e2e ./internal/e2e/...

.PHONY: build run test test-native test-race test-node test-storage test-page \
	lint bench size fuzz soak icons screens clean tools

build:
	$(SITE) build -release $(RELEASE)

run: build
	$(SITE) serve -port $(PORT)

test: test-native test-race test-node test-storage test-page
	@echo "test: all suites passed"

test-native:
	@echo "== native"
	go test ./...

# The race detector needs a C compiler.
test-race:
	@echo "== core, race detector"
	@if [ -n "$$(command -v $$(go env CC))" ]; then \
		CGO_ENABLED=1 go test -race $(CORE); \
	else \
		echo "no C compiler ($$(go env CC)): the race detector cannot run here; install gcc"; \
	fi

test-node: tools
	@echo "== core, js/wasm under Node"
	$(WASM) go test -exec=$(NODE) $(CORE)

test-storage: tools
	@echo "== storage and page helpers, in Chromium"
	@if [ -z "$(STORED)" ]; then echo "no such packages yet"; else \
		for package in $(STORED); do \
			$(WASM) go test -count=1 -exec="$(TOOLS)/wasmbrowsertest" ./$$package/... || exit 1; \
		done; \
	fi

test-page: tools build
	@echo "== the whole page, in Chromium"
	$(E2E)

tools:
	@.ci/tools
	@test -x $(TOOLS)/wasmbrowsertest || GOBIN=$(TOOLS) go install $(WASMBROWSERTEST)

lint:
	@echo "== gofmt"
	@test -z "$$(gofmt -l internal wasm)" || { gofmt -l internal wasm; echo "run gofmt -w on these"; exit 1; }
	@echo "== vet: native, js/wasm, e2e"
	go vet ./...
	$(WASM) go vet ./wasm/... $(CORE) $(addprefix ./,$(addsuffix /...,$(wildcard internal/dom internal/screen internal/book internal/site/floor)))
	go vet -tags e2e,bench,soak ./internal/e2e/...
	@echo "== staticcheck: native, js/wasm, e2e"
	go run $(STATICCHECK) ./...
	$(WASM) go vet -vettool=$$(mktemp -u) ./nothing 2>/dev/null; true

clean:
	rm -rf dist .tools
