package main

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// workbook is a sheet with a header and two pieces, B2 to C3 and their counts, after
// something was done to it.
func workbook(t *testing.T, do ...func(*excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	for row, cells := range [][]any{{"id", "fabric", "size", "count", "note"}, {"N7", "navy dot", "9 x 14", 2}, {"N8", "navy dot", "5 x 7", 1, "from the sails"}} {
		at, err := excelize.CoordinatesToCellName(1, row+1)
		require.NoError(t, err)
		require.NoError(t, f.SetSheetRow("Sheet1", at, &cells))
	}
	for _, d := range do {
		d(f)
	}
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

// part is a file in a workbook.
type part struct{ name, text string }

// unpacked lists the parts of a workbook, and packed makes one of them.
func unpacked(t *testing.T, data []byte) (out []part) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		out = append(out, part{f.Name, string(text)})
	}
	return out
}

func packed(t *testing.T, parts []part) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, p := range parts {
		w, err := z.Create(p.name)
		require.NoError(t, err)
		_, err = io.WriteString(w, p.text)
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

const (
	sheetPart   = "xl/worksheets/sheet1.xml"
	stringsPart = "xl/sharedStrings.xml"
	bookPart    = "xl/workbook.xml"
	kindsPart   = "[Content_Types].xml"
)

// changed is the sound workbook with old text of a part replaced, at least once.
func changed(t *testing.T, name, old, text string) []byte {
	t.Helper()
	parts := unpacked(t, workbook(t))
	for i := range parts {
		if parts[i].name == name {
			require.Contains(t, parts[i].text, old, name)
			parts[i].text = strings.ReplaceAll(parts[i].text, old, text)
			return packed(t, parts)
		}
	}
	t.Fatalf("there is no part %s", name)
	return nil
}

// replaced is the sound workbook with another part instead, or one more.
func replaced(t *testing.T, name, text string) []byte {
	t.Helper()
	parts := unpacked(t, workbook(t))
	for i := range parts {
		if parts[i].name == name {
			parts[i].text = text
			return packed(t, parts)
		}
	}
	return packed(t, append(parts, part{name, text}))
}

// cellValue sets one cell of the sheet.
func cellValue(t *testing.T, at string, v any) func(*excelize.File) {
	return func(f *excelize.File) { require.NoError(t, f.SetCellValue("Sheet1", at, v)) }
}

func styled(t *testing.T, at string, style excelize.Style) func(*excelize.File) {
	return func(f *excelize.File) {
		n, err := f.NewStyle(&style)
		require.NoError(t, err)
		require.NoError(t, f.SetCellStyle("Sheet1", at, at, n))
	}
}

func merged(t *testing.T, from, to string) func(*excelize.File) {
	return func(f *excelize.File) { require.NoError(t, f.MergeCell("Sheet1", from, to)) }
}

// wide is a text in UTF-16.
func wide(s string) string {
	var b strings.Builder
	for _, c := range utf16.Encode([]rune(s)) {
		b.Write([]byte{byte(c), byte(c >> 8)})
	}
	return b.String()
}

var march = time.Date(2025, 3, 4, 0, 0, 0, 0, time.UTC)

func without(parts []part, name string) (out []part) {
	for _, p := range parts {
		if p.name != name {
			out = append(out, p)
		}
	}
	return out
}

func manyParts(parts []part, n int) []part {
	for range n {
		parts = append(parts, part{"xl/media/" + time.Duration(len(parts)).String(), ""})
	}
	return parts
}
