package pack_test

import (
	"context"
	"fmt"

	"pinfold/pack"
	"pinfold/units"
)

// lantern is 24 squares and 2 bands, cut from fat quarters or off the bolt.
func lantern() pack.Problem {
	const in = units.Inch
	return pack.Problem{
		Pieces: []pack.Piece{
			{ID: "square", W: 5 * in / 2, H: 5 * in / 2, Demand: 24},
			{ID: "band", W: 7 * in / 4, H: 21 * in / 2, Demand: 2, Turn: true},
		},
		Sheets: []pack.Sheet{{
			ID: "fat quarter", W: 21 * in, H: 18 * in, Copies: pack.Unlimited, Price: 325,
			Squared: pack.Margins{Left: in / 4, Right: in / 4, Bottom: in / 4, Top: in / 4},
		}},
		Roll: &pack.Roll{
			ID: "bolt", W: 42 * in, Step: units.Yard / 8, Price: 1150, Per: units.Yard,
			Squared: pack.Margins{Bottom: in / 4, Top: in / 4},
		},
		Rules: pack.Rules{Layers: 4, Ruler: 24 * in, Keep: units.Size{Along: 2 * in, Across: 3 * in}},
	}
}

func ExampleSolve() {
	p := lantern()
	s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Status, "by", s.ProvedBy, "at", s.Cost, "cents")
	for _, l := range s.Layouts {
		from := "the bolt, " + l.Stock.Length.Yards()
		if l.Stock.Sheet != pack.FromRoll {
			from = p.Sheets[l.Stock.Sheet].ID
		}
		fmt.Printf("%d x %s: %d pieces\n", l.Copies, from, len(l.Placements(p.Rules.Kerf)))
	}
	// Output:
	// proved best by area at 288 cents
	// 1 x the bolt, 1/4 yd: 26 pieces
}

// Whoever changes a solution, or reads one from a file, has it checked again.
func ExampleCheck() {
	p := lantern()
	s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(pack.Check(p, s))
	s.Price -= 50
	fmt.Println(pack.Check(p, s))
	// Output:
	// <nil>
	// check: the sheets cost 288, not 238
}

// Whether what is at hand will do, and the proof if it will not.
func ExampleHolds() {
	p := lantern()
	p.Roll = nil
	p.Sheets[0].Copies = 1
	for _, squares := range []int{24, 60} {
		p.Pieces[0].Demand = squares
		h, err := pack.Holds(context.Background(), p, pack.Options{Effort: pack.Quick})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%d squares: %v %q\n", squares, h.Verdict, h.ProvedBy)
	}
	// Output:
	// 24 squares: enough ""
	// 60 squares: too little "piece counts"
}

func ExampleFill() {
	p := lantern()
	p.Roll = nil
	p.Pieces[0].Demand, p.Pieces[1].Demand = 100, 100
	f, err := pack.Fill(context.Background(), p, pack.Options{Effort: pack.Quick})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Count, "pieces of", units.Area(f.Value).Format(units.Inches), "of", units.Area(f.Bound).Format(units.Inches), f.Proved)
	// Output: 38 pieces of 358.8 sq in of 358.8 sq in true
}

// From layouts to the work at the table.
func ExampleNewSession() {
	p := lantern()
	s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	if err != nil {
		fmt.Println(err)
		return
	}
	cloths := []pack.Cloth{{Problem: p, Layouts: s.Layouts}}
	cloths = pack.Tidy(context.Background(), cloths, pack.Thrift, pack.Options{Effort: pack.Quick})
	session := pack.NewSession(cloths)
	fmt.Println(session.Passes, "passes, no fewer than", session.AtLeast)
	for _, j := range session.Jobs[:3] {
		if j.Square {
			fmt.Printf("square %v x %v: passes %d\n", j.H, j.W, j.Passes)
			continue
		}
		fmt.Printf("take %v off %v x %v, times %d: passes %d\n", j.Measure, j.H, j.W, j.Cuts, j.Passes)
	}
	// Output:
	// 19 passes, no fewer than 16
	// square 9 in x 42 in: passes 2
	// take 6 in off 8 1/2 in x 42 in, times 1: passes 1
	// take 2 1/2 in off 6 in x 42 in, times 2: passes 2
}
