# Each target is one line; .ci/run does all of them on a bare machine.

.PHONY: demo test race vet staticcheck fmt goldens picture scale scores ci

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
ci:          ; .ci/run
