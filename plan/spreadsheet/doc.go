// Package spreadsheet reads and writes a stash as spreadsheets have it: an XLSX
// workbook, or CSV.
//
// Start with [Read] or [Write]. Write writes a sheet to be read by people: what is
// written depends on nothing but the stash, holds no formula whatever names the stash
// has, and Read gives the same stash back. Read takes any sheet with a header row of the stash's columns in
// any order, and tells what is wrong by cell.
//
// A workbook is a stranger's: how large it is unpacked, and how many rows, columns
// and merged ranges it has, is bounded before it is read.
package spreadsheet

import (
	"errors"
	"path/filepath"
	"strings"

	"pinfold/plan"
	"pinfold/units"
)

// Sheet is what was read: the pieces, without ids where the sheet gives none, the
// columns that were not understood, and the name of the worksheet, "" for CSV.
type Sheet struct {
	plan.Sheet
	Name string
}

// MostBytes is the largest file that is read.
const MostBytes = 4 << 20

// errKind is the fault of a file with another ending.
var errKind = errors.New("is neither .xlsx nor .csv: write a name that ends in one of them")

// Kind returns the ending of a file's name that says what it is, ".xlsx" or ".csv".
func Kind(name string) (string, error) {
	switch ext := strings.ToLower(filepath.Ext(name)); ext {
	case ".xlsx", ".csv":
		return ext, nil
	}
	return "", errKind
}

// Read reads a file's content. name is the file's name, which tells what it is; bare
// numbers take u unless the sheet's column unit says another. sheet names the
// worksheet; "" is the one called "Bin", or else the first. What is wrong comes
// back as [plan.Errors].
func Read(name string, data []byte, sheet string, u units.Unit) (*Sheet, error) {
	kind, err := Kind(name)
	switch {
	case err != nil:
		return nil, err
	case len(data) > MostBytes:
		return nil, whole(name, "is too large", "the most is 4096 KiB")
	case kind == ".xlsx":
		return readWorkbook(name, data, sheet, u)
	case sheet != "":
		return nil, whole(name, "is CSV, which has no sheets to choose from", "leave the sheet's name out")
	}
	s, err := plan.ReadSheetCSV(name, data, u)
	if err != nil {
		return nil, err
	}
	return &Sheet{Sheet: *s}, nil
}

// Write writes a stash as the file of that name has it.
func Write(name string, pieces []plan.StashPiece, u units.Unit) ([]byte, error) {
	kind, err := Kind(name)
	if err != nil {
		return nil, err
	}
	var data []byte
	if kind == ".xlsx" {
		data, err = writeWorkbook(pieces, u)
	} else {
		data, err = writeCSV(pieces, u)
	}
	if err != nil {
		return nil, err
	}
	return data, readsBack(name, data, pieces, u)
}

// whole is a fault of the file as a whole.
func whole(name, msg, hint string) plan.Errors {
	return plan.Errors{{Pos: plan.Pos{File: name}, Msg: msg, Hint: hint}}
}
