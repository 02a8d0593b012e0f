package ledger_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"pinfold/plan/ledger"
	"pinfold/units"
)

// A stash is begun, a piece is taken out, and the last change is walked back.
func Example() {
	folder, err := os.MkdirTemp("", "stash")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	ctx, file := context.Background(), filepath.Join(folder, "stash.csv")

	book, err := ledger.Open(file, units.Inches)
	if err != nil {
		fmt.Println(err)
		return
	}
	cloth, err := ledger.ParseCloth("navy dot: 5 x 7, 6 x 9 x3", book.Unit)
	if err != nil {
		fmt.Println(err)
		return
	}
	if _, err := book.Put(ctx, []ledger.Cloth{cloth}, ledger.Tag{Where: "blue tin"}); err != nil {
		fmt.Println(err)
		return
	}
	if _, err := book.Take(ctx, "N2", 2); err != nil {
		fmt.Println(err)
		return
	}
	text, err := os.ReadFile(file)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(string(text))

	_, undone, err := book.Undo(ctx)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("undone:", undone.What, undone.Words())
	// Output:
	// id,fabric,size,count,bad areas,squared,where,note
	// N1,navy dot,5 x 7 in,1,,no,blue tin,
	// N2,navy dot,6 x 9 in,1,,no,blue tin,
	// undone: take took out "N2" (navy dot, 6 x 9 in) x2
}

// A session is booked by how far it has come, so booking it twice changes nothing.
func ExampleBook_Done() {
	folder, err := os.MkdirTemp("", "stash")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	ctx := context.Background()

	book, err := ledger.Open(filepath.Join(folder, "stash.csv"), units.Inches)
	if err != nil {
		fmt.Println(err)
		return
	}
	session := ledger.Session{
		Result: "a hash", Title: "Lantern fair", Keep: units.Size{Along: 2 * units.Inch, Across: 3 * units.Inch},
		Sheets: []ledger.Sheet{{
			Number: 1, Fabric: "navy dot", Cloth: "a fat quarter", Copies: 1,
			Size:    units.Size{Along: 18 * units.Inch, Across: 21 * units.Inch},
			Offcuts: []units.Size{{Along: 4 * units.Inch, Across: 20 * units.Inch}},
		}},
	}
	for range 2 {
		entry, err := book.Done(ctx, session, ledger.Progress{})
		switch {
		case err != nil:
			fmt.Println(err)
		case entry == nil:
			fmt.Println("booked before")
		default:
			for _, m := range entry.Put {
				fmt.Println("put in", m.Fabric, m.Size)
			}
		}
	}
	// Output:
	// put in navy dot 4 x 20 in
	// booked before
}
