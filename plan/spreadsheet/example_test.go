package spreadsheet_test

import (
	"fmt"

	"pinfold/plan/spreadsheet"
	"pinfold/units"
)

// Columns may stand in any order, and a size may be two numbers.
func ExampleRead() {
	sheet, err := spreadsheet.Read("tin.csv", []byte(`fabric,along,across,unit,count,bought at
navy dot,18,21,in,1,the fair
sail white,20,30,cm,2,
`), "", units.Inches)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range sheet.Pieces {
		fmt.Println(p.Fabric, p.Size.Format(units.Inches), "x", p.Count)
	}
	fmt.Println("not taken over:", sheet.Ignored)
	// Output:
	// navy dot 18 x 21 in x 1
	// sail white 20 cm x 30 cm x 2
	// not taken over: ["bought at"]
}

// What is wrong is told by cell, everything at once.
func ExampleRead_faults() {
	_, err := spreadsheet.Read("tin.csv", []byte(`fabric,size,count
navy dot,18 by,1
sail white,5 x 7,many
`), "", units.Inches)
	fmt.Println(err)
	// Output:
	// tin.csv:2:10: size: cannot read "18 by" as a size: write two lengths with x between them, like 2 1/2 x 4
	// tin.csv:3:18: count: "many" is not a whole number: write one from 1 to 10000
}

// What Write writes, Read reads.
func ExampleWrite() {
	sheet, err := spreadsheet.Read("tin.csv", []byte("fabric,size\nnavy dot,18 x 21\n"), "", units.Inches)
	if err != nil {
		fmt.Println(err)
		return
	}
	workbook, err := spreadsheet.Write("tin.xlsx", sheet.Pieces, units.Inches)
	if err != nil {
		fmt.Println(err)
		return
	}
	again, err := spreadsheet.Read("tin.xlsx", workbook, "", units.Inches)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(again.Name, len(again.Pieces), again.Pieces[0].Fabric, again.Pieces[0].Size.Format(units.Inches))
	// Output:
	// Bin 1 navy dot 18 x 21 in
}
