package pack_test

import (
	"bufio"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// classical is one of the instances of testdata/classical.txt, whose head
// explains the form.
type classical struct {
	name     string
	pieces   []pack.Piece
	sheets   []pack.Sheet
	width    units.Length // of a strip
	fill     bool
	best     [2]int64 // known; fixed, then turning; 0 for none
	provable [2]bool  // best is the optimum
}

func readClassical(t *testing.T) []classical {
	f, err := os.Open("testdata/classical.txt")
	require.NoError(t, err)
	defer f.Close()
	var all []classical
	for lines := bufio.NewScanner(f); lines.Scan(); {
		line := lines.Text()
		word, rest, _ := strings.Cut(line, " ")
		if word == "" || word == "#" || word == "source" {
			continue
		}
		if word == "=" {
			all = append(all, classical{name: rest})
			continue
		}
		require.NoError(t, all[len(all)-1].line(word, rest), line)
	}
	return all
}

func (c *classical) line(word, rest string) error {
	var w, h units.Length
	switch word {
	case "fill":
		c.fill = true
		_, err := fmt.Sscanf(rest, "%d x %d", &w, &h)
		c.sheets = []pack.Sheet{{ID: "sheet", W: w, H: h, Copies: 1}}
		return err
	case "sheets":
		price := int64(1)
		form, args := "%d x %d", []any{&w, &h}
		if strings.Contains(rest, "price") {
			form, args = "%d x %d price %d", append(args, &price)
		}
		_, err := fmt.Sscanf(rest, form, args...)
		c.sheets = append(c.sheets, pack.Sheet{ID: "sheet " + rest, W: w, H: h, Copies: pack.Unlimited, Price: price})
		return err
	case "strip":
		_, err := fmt.Sscan(rest, &c.width)
		return err
	case "best", "turning":
		i := 0
		if word == "turning" {
			i = 1
		}
		_, err := fmt.Sscan(rest, &c.best[i])
		c.provable[i] = strings.HasSuffix(rest, " proved")
		return err
	}
	q := pack.Piece{ID: fmt.Sprint("piece ", len(c.pieces))}
	line, worth, _ := strings.Cut(word+" "+rest, " worth ")
	line = strings.Replace(line, " any", " -1", 1)
	if _, err := fmt.Sscanf(line, "%d x %d %d", &q.W, &q.H, &q.Demand); err != nil {
		return err
	}
	if q.Demand < 0 {
		q.Demand = int(c.sheets[0].W * c.sheets[0].H / (q.W * q.H)) // no more can fit
	}
	c.pieces = append(c.pieces, q)
	if worth == "" {
		return nil
	}
	_, err := fmt.Sscan(worth, &c.pieces[len(c.pieces)-1].Value)
	return err
}

// problem returns the instance with turning forbidden or allowed.
func (c *classical) problem(turn bool) pack.Problem {
	p := pack.Problem{Sheets: c.sheets}
	for _, q := range c.pieces {
		q.Turn = turn
		p.Pieces = append(p.Pieces, q)
	}
	if c.width > 0 {
		p.Roll = &pack.Roll{ID: "strip", W: c.width, Step: 1, Price: 1, Per: 1}
	}
	return p
}
