# Each target is one line; .ci/run does all of them on a bare machine.

.PHONY: demo test race vet staticcheck fmt goldens picture scale scores bench bench-baseline bench-compare ci release release-twice

demo:        ; go run ./cmd/pinfold layout
test:        ; go test ./...
race:        ; go test -race -short ./...
vet:         ; go vet ./...
staticcheck: ; go run honnef.co/go/tools/cmd/staticcheck@v0.8.2 ./...
fmt:         ; gofmt -w .
goldens:     ; go test ./reports -update
# make scale: the table of SCALE.md, some ten minutes
scale:       ; go test ./cmd/pinfold -run "TestScale$$" -timeout 60m -count 1 -v -scale $(CURDIR)/SCALE.md
picture:     ; go run ./cmd/pinfold layout docs/picture.yaml --formats svg --out docs/picture && go run ./cmd/pinfold layout docs/scraps.yaml --formats svg --out docs/scraps
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
release:
	@rm -rf $(DIST) && mkdir -p $(DIST)
	@set -e; for p in $(PLATFORMS); do os=$${p%/*}; arch=$${p#*/}; \
	CGO_ENABLED=0 GOOS=$$os GOARCH=$$arch GOFLAGS=-mod=readonly go build -trimpath -buildvcs=false \
	-ldflags "-s -w -buildid= -X main.release=$(or $(VERSION),unreleased)" \
	-o $(DIST)/pinfold-$$os-$$arch$$([ $$os != windows ] || echo .exe) ./cmd/pinfold; done
	@cd $(DIST) && sha256sum pinfold-* >SHA256SUMS && cat SHA256SUMS
# builds everything twice, and fails unless the bytes are the same
release-twice: ; $(MAKE) release DIST=dist && $(MAKE) release DIST=dist-again && cmp dist/SHA256SUMS dist-again/SHA256SUMS && rm -rf dist-again
