package plan_test

import (
	"context"
	"fmt"

	"pinfold/pack"
	"pinfold/plan"
)

func Example() {
	p, err := plan.Parse("plan.yaml", []byte(`
ornaments:
  harbour star:
    ball: 3 in
    pieces:
      - {name: centre, size: 2 1/2 x 2 1/2, count: 10, role: ground}
      - {name: round 2, size: 2 1/2 x 2 1/2, count: 16, role: ground}
    band: {width: 1 3/4, overlap: 1, role: ground}
make:
  - {ornament: harbour star, count: 12, colourway: {ground: navy dot}}
fabrics:
  navy dot:
    bolt: {width: 44, usable: 42}
    buy: [{yard: 11.50}]
cutting: {spare: 5%}
`), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	g, err := plan.Gather(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range g.Fabrics {
		for _, n := range f.Sizes {
			fmt.Printf("%s: %d + %d spare of %s, %s\n", f.Fabric, n.Count, n.Spare, n.ID, n.Size.Format(p.Unit))
		}
	}
	fmt.Println(plan.Recount(p, g))
	// Output:
	// navy dot: 12 + 1 spare of A, 1 3/4 x 10 1/2 in
	// navy dot: 312 + 16 spare of B, 2 1/2 x 2 1/2 in
	// 324 pieces counted twice, by fabric and by ornament: equal
}

// Everything wrong with a plan is told at once.
func ExampleParse() {
	_, err := plan.Parse("plan.yaml", []byte(`
ornaments:
  harbour star: {ball: 3 inn, pieces: [{name: centre, size: 2 x 2, cuont: 10, role: ground}]}
make: [{ornament: harbor star, count: 12}]
fabrics: {navy dot: {buy: [fat quarter]}}
`), nil)
	fmt.Println(err)
	// Output:
	// plan.yaml:3:24: ball: unknown unit "inn" in "3 inn": write in, cm, mm, m, yd or ft
	// plan.yaml:3:68: unknown key "cuont" in a piece: did you mean "count"?
	// plan.yaml:4:19: ornament "harbor star" is not defined: did you mean "harbour star"?
}

// 30 pieces come out of one fat quarter, which is the least there is to buy.
func ExampleSolve() {
	p, err := plan.Parse("plan.yaml", []byte(`
ornaments:
  harbour star: {ball: 3 in, pieces: [{name: centre, size: 2 1/2 x 2 1/2, count: 10, role: ground}]}
make: [{ornament: harbour star, count: 3, colourway: {ground: navy dot}}]
fabrics: {navy dot: {buy: [{fat quarter: 3.25, size: 18 x 21}]}}
cutting: {squaring: 0}
`), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := plan.Solve(context.Background(), p, plan.Options{Effort: pack.Quick})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range r.Fabrics {
		fmt.Printf("%s: price %d, at least %d\n", f.Solution.Status, f.Solution.Cost, f.Solution.Bound)
	}
	for _, b := range r.Shopping {
		fmt.Println("buy", b.Count, b.Fabric)
	}
	// Output:
	// proved best: price 325, at least 325
	// buy 1 navy dot
}
