# Two commands for a fresh machine with Go: make run, make test. Both fetch what
# they need.

GO ?= go
DEMO ?= examples/three-meadows.yaml
OUT ?= out/demo
DATA ?= out/app
LISTEN ?= 127.0.0.1:8321

.PHONY: run plan app test build ui lint readers database unit cross schemas vuln bench clean

# The demo farm planned into a folder, then the app with it, until Ctrl-C.
run: plan app

plan:
	$(GO) run ./cmd/stallwright plan $(DEMO) --out $(OUT)

test: lint unit cross

# The app's pages, and the engine in them.
ui:
	sh scripts/need.sh node:nodejs npm:npm
	$(GO) run ./app/ui/build

app: ui
	$(GO) run ./cmd/stallwright serve --demo --data $(DATA) --listen $(LISTEN)

build:
	$(GO) build -o bin/ ./cmd/stallwright

lint:
	@unformatted=$$(gofmt -l $$(git ls-files '*.go' 2>/dev/null || find . -name '*.go')); \
	if [ -n "$$unformatted" ]; then echo "gofmt: $$unformatted"; exit 1; fi
	$(GO) vet ./...
	$(GO) tool staticcheck ./...

# What others wrote to read the files we write, for the tests.
readers:
	sh checks/install.sh

# PostgreSQL's server, for the tests of the store.
database:
	sh scripts/test-database.sh

unit: readers database ui
	$(GO) test ./...

# The engine and the paper must build for every machine a crew or an office
# holds, browsers and 32-bit ones included.
cross:
	GOOS=windows GOARCH=amd64 $(GO) build ./...
	GOOS=darwin GOARCH=arm64 $(GO) build ./...
	GOOS=linux GOARCH=386 $(GO) build ./...
	GOOS=js GOARCH=wasm $(GO) build ./engine/... ./paper/... ./app/page/...

# Writes the published JSON Schemas anew; a test fails when they have drifted.
schemas:
	$(GO) run ./cmd/stallwright schema job > schemas/stallwright-job.schema.json
	$(GO) run ./cmd/stallwright schema kit > schemas/stallwright-kit.schema.json
	$(GO) run ./cmd/stallwright schema prices > schemas/stallwright-prices.schema.json
	$(GO) run ./cmd/stallwright schema yard > schemas/stallwright-yard.schema.json

# Apart from test: its database may be out of reach.
vuln:
	$(GO) tool govulncheck ./...

bench:
	$(GO) test -run '^$$' -bench . -benchmem ./...

clean:
	rm -rf bin out
