GO       ?= go
GOLANGCI ?= $(GO) run github.com/golangci/golangci-lint/v2/cmd/golangci-lint@v2.15.0
BENCHCMP ?= $(GO) run golang.org/x/perf/cmd/benchstat@v0.0.0-20260908200009-22c9c6c9d4da
FUZZTIME ?= 20s
# All that is compiled here, by whatever target, test or tool, is compiled one way: each takes from the build cache what another put there.
export CGO_ENABLED ?= 0
export GOFLAGS := $(strip $(shell $(GO) env GOFLAGS) -trimpath)
# Debian packages with the independent programs that tests compare with.
PACKAGES := chromium gdal-bin nats-server poppler-utils proj-bin python3-numpy python3-scipy qemu-user r-base-core r-cran-mass r-cran-gstat

.PHONY: all assets build demo page test test-long race golden fuzz soak bench fmt vet lint vulnerabilities cover check mutate references pictures clean
all: check build

build:
	$(GO) build -ldflags '-s -w' -o bin/ ./cmd/runnel ./cmd/runnel-geoparquet

demo: build
	@rm -rf demo
	@bin/runnel demo demo
	@printf '\nbin/runnel check demo/library.geojson -o demo/out\n\n'
	@bin/runnel check demo/library.geojson -o demo/out
	@printf '\nOpen demo/out/library.plan.pdf or library.report.html, or library.geojson in any map viewer. demo/README.md lists the other roofs and what was planted on each.\n'

# The program for a browser: dist/page, a folder that any web space serves, and dist/runnel.html, one file for a desk.
page:
	@$(GO) run .ci/page/*.go -o dist

# All tests. Tests that need an independent program are skipped, counted and named where its package is missing
# and cannot be installed.
test: references
	@GO="$(GO)" VET="$(VET)" sh .ci/test

# The long form of the random trials: hours of seeds instead of seconds.
test-long: references
	RUNNEL_LONG=1 $(GO) test -timeout 3h ./...

references:
	@sh .ci/references $(PACKAGES)

# The pictures of the README and of the reference, taken anew.
pictures:
	PICTURES="$(CURDIR)/testdata/pictures" $(GO) test ./cmd/command ./cmd/page -count 1 -run 'TestPictures|TestMeasureARoof|TestFromAnEmptyPageToTheLetter'

# What the report embeds, and what reads GeoParquet in tests, at the versions named in .ci/assets.
assets:
	@sh .ci/assets export/report/asset export/geoparquet/testdata

race:
	CGO_ENABLED=1 $(GO) test -race ./...

golden:
	UPDATE_GOLDEN=1 $(GO) test ./... -run Golden
	UPDATE_GOLDEN=1 $(GO) test ./analysis/cause

fuzz:
	@GO="$(GO)" FUZZTIME="$(FUZZTIME)" sh .ci/fuzz

# RUNS small inputs for the properties of the fuzz tests, in process: seconds for a million. RUNS=100000000 takes hours.
RUNS ?= 1000000
soak:
	@$(GO) run .ci/soak/*.go -runs $(RUNS) -seed $(or $(SEED),1)

# Six runs of every benchmark and their medians. PKG narrows them to some packages; REFERENCE=DIR also times the
# reference libraries that DIR/run_all.sh runs.
PKG ?= ./...
bench: build
	$(GO) test $(PKG) -run '^$$' -bench . -benchmem -count 6 -timeout 2h | tee bench.txt
	$(BENCHCMP) bench.txt
	@if [ -n "$(REFERENCE)" ]; then cd "$(REFERENCE)" && RUNS=6 bash ./run_all.sh; fi

fmt:
	$(GOLANGCI) fmt ./...

vet:
	$(GO) vet ./...

lint:
	$(GOLANGCI) run ./...

cover:
	$(GO) test -coverprofile=cover.out ./... && $(GO) tool cover -func=cover.out | tail -1

vulnerabilities:
	@GO="$(GO)" sh .ci/vulnerabilities

check: VET = off
check: vet lint vulnerabilities test

# Plants the faults of testdata/mutations.tsv one at a time and names those that no test notices; SAMPLE=3 SEED=1 some of them.
# NEW=100 SEED=7 makes new ones in analysis; IN=analysis/flow narrows them, IN=. takes the whole program.
SEED ?= 1
mutate:
	@$(GO) run .ci/mutate/*.go -seed $(SEED) $(if $(NEW),-new $(NEW) -in $(or $(IN),analysis),$(if $(SAMPLE),-sample $(SAMPLE) -last ''))

clean:
	rm -rf bin demo dist cover.out bench.txt test.log vulnerabilities.log
