# Each target is one line; .ci/run does all of them on a bare machine.

.PHONY: demo test race vet vet-all cover staticcheck fmt goldens picture scale scores bench bench-baseline bench-compare ci release release-twice

demo:        ; go run ./cmd/pinfold layout
test:        ; go test ./...
race:        ; go test -race -short ./...
# statements of each package run by its own fast tests, and by those of all packages
cover:       ; .ci/cover
vet:         ; go vet ./...
# what only other systems compile, tests included
vet-all:     ; @set -e; for os in linux darwin windows; do echo "vet for $$os"; CGO_ENABLED=0 GOOS=$$os go vet ./...; done
staticcheck: ; go run honnef.co/go/tools/cmd/staticcheck@v0.8.2 ./...
fmt:         ; gofmt -w .
goldens:     ; go test ./reports -update
# make scale: the table of SCALE.md, some ten minutes
scale:       ; go test ./cmd/pinfold -run "TestScale$$" -timeout 60m -count 1 -v -scale $(CURDIR)/SCALE.md
# the pictures of the README and of docs; a test holds them against what is drawn now
picture:     ; go run ./cmd/pinfold layout docs/picture.yaml --formats svg --out docs/picture && go run ./cmd/pinfold layout docs/scraps.yaml --formats svg --out docs/scraps && go run ./cmd/pinfold face fixtures/template/plan.yaml --out docs/first-plan
# make scores FAMILIES="a.json b.json" KEEP=folder EFFORT=normal: see cmd/packbench
scores:      ; go run ./cmd/packbench -scores pack/SCORES.md -keep $(KEEP) -effort $(or $(EFFORT),normal) $(addprefix -family ,$(FAMILIES))
# make bench: the hot paths; bench-compare holds them against the recorded baseline
BENCH        = go test -run XXX -cpu 1 -benchtime 200ms -count 6 -timeout 20m -bench 'Parse|Format|Check|Session|Solve/(quick|normal|144x168)' . ./pack ./units ./pack/internal/dp
BENCHSTAT    = go run golang.org/x/perf/cmd/benchstat@v0.0.0-20260908200009-22c9c6c9d4da
BASELINE     = testdata/bench/baseline.txt
bench:          ; $(BENCH)
bench-baseline: ; @mkdir -p $(dir $(BASELINE)) && { echo "# $$(date -u +%F), $$(uname -m), $$(getconf _NPROCESSORS_ONLN) cores, $$(go version), $$(uptime | grep -o 'load average.*')"; $(BENCH); } >$(BASELINE) && cat $(BASELINE)
bench-compare:  ; @new=$$(mktemp) && trap "rm -f $$new" EXIT && $(BENCH) >$$new && $(BENCHSTAT) -ignore cpu,goos,goarch $(BASELINE) $$new
ci:          ; .ci/run

# make release VERSION=v1.0.0: static programs for each system in dist/, with their sums
PLATFORMS    = linux/amd64 linux/arm64 darwin/amd64 darwin/arm64 windows/amd64 windows/arm64
DIST         = dist
DATE         = $(shell git log -1 --format=%cs)
release:
	@rm -rf $(DIST) && mkdir -p $(DIST)
	@set -e; for p in $(PLATFORMS); do os=$${p%/*}; arch=$${p#*/}; \
	CGO_ENABLED=0 GOOS=$$os GOARCH=$$arch GOFLAGS=-mod=readonly go build -trimpath -buildvcs=false \
	-ldflags "-s -w -buildid= -X main.release=$(or $(VERSION),unreleased) -X main.released=$(DATE)" \
	-o $(DIST)/pinfold-$$os-$$arch$$([ $$os != windows ] || echo .exe) ./cmd/pinfold; done
	@cd $(DIST) && sha256sum pinfold-* >SHA256SUMS && cat SHA256SUMS
# builds everything again from a copy of the files in another folder, with an empty
# build cache, and fails unless the bytes are the same
release-twice: release
	@set -e; again=$$(mktemp -d); trap 'rm -rf "$$again"' EXIT; mkdir $$again/copy; \
	git ls-files -z --cached --others --exclude-standard | xargs -0 cp --parents -t $$again/copy; \
	GOCACHE=$$again/cache $(MAKE) -C $$again/copy release DATE=$(DATE); \
	cmp $(DIST)/SHA256SUMS $$again/copy/$(DIST)/SHA256SUMS && echo "the same bytes twice"
