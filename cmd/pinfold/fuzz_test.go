package main

import (
	"os"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"pinfold/fixtures"
	"pinfold/plan"
	"pinfold/reports"
	"pinfold/units"
)

// FuzzArguments gives every reader of the command line the same text: it is read, or
// refused on one line that a terminal can show, with exit code 2.
func FuzzArguments(f *testing.F) {
	for _, s := range []string{
		"1,3,5-7,8x2", "3, 5 - 7 ×1", "2-1", "1x0,1x99999999999", "0-2147483647", "fat quarter", "fat quarter, 18 x 21 in", "1/2 yd x 42", "½ m × 110", "10 x 12 in",
		"2 1/2 x 4 1/2", "text,svg,pdf", "shop,html", "2m", "30", "a4", "letter", "quick", "navy dot=41 in", "navy dot = 17 1/2 x 20", "4%", "N1", "N1\n2",
		"layout\n--out\nx\nplan.yaml", "stash\nput\n--id=7", "yield\n-3 x 4\n--from", "--\n--help", "help\nlayout", "-\x1b[31mx\nlayout", "--\x00x",
	} {
		f.Add(s)
	}
	sheets := []reports.RecordSheet{{Number: 1, Copies: 1}, {Number: 2, Copies: 7}, {Number: 3, Copies: 2}, {Number: 8, Copies: 2}}
	demo, err := plan.ReadFS(fixtures.Demo(), fixtures.PlanFile)
	require.NoError(f, err)
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, s string) {
		if !utf8.ValidString(s) {
			return
		}
		refused := func(what string, err error) bool {
			if err == nil {
				return false
			}
			var told strings.Builder
			require.Equal(t, exitInput, messages{&told}.outcome(err), what)
			for line := range strings.SplitSeq(strings.TrimSuffix(told.String(), "\n"), "\n") {
				require.False(t, strings.ContainsFunc(line, unicode.IsControl), "%s: %q", what, line)
				require.True(t, strings.HasPrefix(line, "pinfold: "), "%s: %q", what, line)
			}
			return true
		}
		if cut, err := parseSheets(s, sheets); !refused("sheets", err) {
			for number, copies := range cut {
				i := slices.IndexFunc(sheets, func(sh reports.RecordSheet) bool { return sh.Number == number })
				require.GreaterOrEqual(t, i, 0)
				require.Positive(t, copies)
				require.LessOrEqual(t, copies, sheets[i].Copies)
			}
		}
		for _, u := range []units.Unit{units.Inches, units.Centimetres} {
			if c, err := parseCloth(s, u); !refused("cloth", err) {
				require.Positive(t, c.size.Area())
				require.NotEmpty(t, c.format(u))
				require.LessOrEqual(t, max(c.size.Along, c.size.Across), units.MaxLength)
			}
			if sizes, err := parseSizes(strings.Split(s, "\n"), u); !refused("sizes", err) {
				for _, size := range sizes {
					require.Positive(t, size.Area())
				}
			}
		}
		_, files, err := layoutOutput.parseFormats(s)
		refused("formats", err)
		require.Subset(t, reports.Formats(), files)
		_, err = reports.ParsePaper(s)
		refused("paper", err)
		_, err = parseEffort(s)
		refused("effort", err)
		if d, err := parseTime(s); !refused("time", err) {
			require.GreaterOrEqual(t, d, time.Duration(0))
		}
		if args, err := reorder(newApp(nil, nil, nil).Commands, strings.Split(s, "\n")); !refused("arguments", err) {
			require.LessOrEqual(t, len(args), strings.Count(s, "\n")+3)
		}
		for _, w := range []plan.WhatIf{{Usable: []string{s}}, {Shrinks: []string{s}}, {FatQuarter: []string{s}}} {
			_, _, err := demo.With(w)
			refused("what if", err)
		}
		// From the stash what was said goes out, or nothing does.
		const stash = "id,fabric,size,count\nN1,navy dot,5 x 7,3\nN2,sand,3 x 4,\n"
		file := write(t, dir, "stash.csv", stash)
		require.NoError(t, os.RemoveAll(file+".history"))
		if said := invoke(t, append([]string{"stash", "take", "--stash", file, "--"}, strings.Split(s, "\n")...)...); said.code != exitDone {
			require.Equal(t, exitInput, said.code, "%q: %s", s, said.errors)
			require.Equal(t, stash, stashOf(t, dir))
		}
	})
}
