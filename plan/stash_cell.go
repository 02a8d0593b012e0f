package plan

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"pinfold/units"
)

// Cell writes what a stash file has in a column, one of [StashColumns] or "shape",
// for a stash whose bare numbers take u; what is written is read back as the same.
// It is "" where there is nothing to say. Beside a shape no size is written: it
// follows from the shape, and cannot always be printed.
func (s StashPiece) Cell(column string, u units.Unit) string {
	switch column {
	case "id":
		return s.ID
	case "fabric":
		return s.Fabric
	case "size":
		if s.Shape != nil {
			return ""
		}
		return exactSize(s.Size, u)
	case "shape":
		return s.Measured
	case "count":
		return strconv.Itoa(s.Count)
	case "bad areas":
		return s.BadAreas(u)
	case "squared":
		if s.Squared {
			return "yes"
		}
		return "no"
	case "where":
		return s.Where
	case "note":
		return s.Note
	}
	return ""
}

// exactSize is Size.Format, but where that would only be about right it writes
// every tick, as a decimal fraction of a centimetre.
func exactSize(s units.Size, u units.Unit) string { return exactly(s, s.Format(u)) }

// exactBare is Size.Number, as exact as exactSize.
func exactBare(s units.Size, u units.Unit) string { return exactly(s, s.Number(u)) }

func exactly(s units.Size, text string) string {
	if !strings.Contains(text, "about") {
		return text
	}
	return fmt.Sprintf("%s x %s cm", everyTick(s.Along), everyTick(s.Across))
}

// exactNumber is Length.Number, as exact as exactSize.
func exactNumber(l units.Length, u units.Unit) string {
	if text := l.Number(u); !strings.Contains(text, "about") {
		return text
	}
	return everyTick(l) + " cm"
}

// everyTick writes a length in centimetres, of which a tick is 0.0003125.
func everyTick(l units.Length) string {
	d := big.NewRat(int64(l), int64(units.Centimetre)).FloatString(7)
	return strings.TrimRight(strings.TrimRight(d, "0"), ".")
}

// Same tells whether two pieces are the same but for where they were written.
func (s StashPiece) Same(t StashPiece) bool {
	return s.ID == t.ID && s.Fabric == t.Fabric && s.Size == t.Size && s.Count == t.Count && s.Squared == t.Squared &&
		s.Where == t.Where && s.Note == t.Note && s.Measured == t.Measured && slices.Equal(s.Bad, t.Bad)
}
