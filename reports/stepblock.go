package reports

import (
	"fmt"
	"strings"

	"pinfold/units"
)

// The columns of a step: box and number, the words, measure and check.
const (
	stepNumber = 48 * point
	stepSays   = 168 * point
)

// stepBlock is a step ready to be set.
type stepBlock struct {
	st     *Step
	words  []word
	right  []word
	height units.Length

	picture *Drawing // of the part that the step is the first to cut, or nil
	px, py  units.Length
}

// narrowPicture is the widest picture that stands beside the words of its step.
const narrowPicture = 110 * point

// block sets a step for the width of the page; with the picture of what lies on
// the mat, if there is one.
func (b *book) block(st *Step, picture *Drawing) stepBlock {
	runs := b.stepRuns(st, picture)
	out := stepBlock{st: st, picture: picture}
	var tall units.Length
	wide := b.width() - stepNumber - stepSays - 12*point
	switch {
	case picture == nil:
		out.words, out.height = flow(runs, wide)
	case picture.W <= narrowPicture:
		out.words, out.height = flow(runs, wide-picture.W-4*point)
		out.px, out.height = wide-picture.W, max(out.height, picture.H)
	default:
		out.words, out.height = flow(runs, wide)
		out.px, out.py = -8*point, out.height+3*point
		out.height = out.py + picture.H
	}
	out.right, tall = b.stepRight(st)
	out.height = max(out.height, tall) + 9*point
	return out
}

// stepRuns are the words of a step, in larger letters if a picture belongs to it.
func (b *book) stepRuns(st *Step, picture *Drawing) []run {
	w := st.Words
	text := Font{Size: 19 * point / 2, Colour: ink}
	bold, quiet := text, text
	bold.Bold, quiet.Colour = true, soft
	say := func(f Font, breaks bool, s ...string) run { return run{b.say(strings.Join(s, " ")), f, breaks} }
	take := bold
	take.Size = 21 * point / 2
	if picture != nil {
		take.Size = 12 * point
	}
	runs := []run{
		say(take, false, capital(w.Take)),
		say(quiet, false, joined("; ", w.Cloth, w.From)),
		say(bold, true, w.Turn),
		say(text, w.Turn == "", w.Lay),
		say(bold, false, w.Mind...),
	}
	if st.Square {
		for _, o := range w.Off {
			runs = append(runs, say(text, true, capital(o)+"."))
		}
	} else {
		runs = append(runs, say(bold, true, "Off:"), say(text, false, strings.Join(w.Off, "; ")+"."))
	}
	if len(w.Rest) > 0 {
		runs = append(runs, say(bold, false, "Left:"), say(text, false, strings.Join(w.Rest, "; ")+"."))
	}
	return runs
}

// stepRight sets the measure, large, how often, from where, and the check.
func (b *book) stepRight(st *Step) (words []word, height units.Length) {
	w := st.Words
	y := units.Length(0)
	if w.Measure != "" {
		large := Font{Size: 23 * point, Bold: true, Colour: ink}
		unit := Font{Size: 12 * point, Bold: true, Colour: ink}
		y = 21 * point
		words = append(words, word{0, y, w.Measure, large})
		x := large.width(w.Measure) + 4*point
		words = append(words, word{x, y, w.Unit, unit})
		often := Font{Size: 13 * point, Bold: true, Colour: ink}
		words = append(words, word{stepSays - often.width(w.Times), y, w.Times, often})
	} else {
		often := Font{Size: 13 * point, Bold: true, Colour: ink}
		y = 14 * point
		words = append(words, word{stepSays - often.width(w.Times), y, w.Times, often})
	}
	if w.Edge != "" {
		y += 12 * point
		words = append(words, word{0, y, "from the " + w.Edge, Font{Size: 9 * point, Colour: ink}})
	}
	if w.Left != "" {
		y += 14 * point
		words = append(words, word{0, y, w.Left, Font{Size: 11 * point, Bold: true, Colour: ink}})
	}
	return words, y + 3*point
}

// steps sets steps one below the other; the last one does not stand alone on a
// page.
func (b *book) steps(blocks []stepBlock) {
	for i, k := range blocks {
		need := k.height
		if i == len(blocks)-2 {
			need += blocks[i+1].height
		}
		b.need(need)
		b.step(k, 0, 0)
	}
}

// step sets one step and moves on, its words moved to the right and down.
func (b *book) step(k stepBlock, dx, dy units.Length) {
	st, picture := k.st, k.picture
	d := b.page()
	y := b.y + 4*point
	d.rect(b.left(), y+2*point, 11*point, 11*point, pen(ink, point))
	d.text(b.left()+17*point, y+12*point, fmt.Sprint(st.Number), Font{Size: 13 * point, Bold: true, Colour: ink})
	for _, w := range k.words {
		d.text(b.left()+stepNumber+dx+w.x, y+dy+w.y, w.text, w.font)
	}
	for _, w := range k.right {
		d.text(b.right()-stepSays+w.x, y+w.y, w.text, w.font)
	}
	if picture != nil {
		d.place(b.left()+stepNumber+k.px, y+k.py, picture)
	}
	b.y += k.height
	d.line(b.left(), b.y, b.right(), b.y, pen(faint, point/2))
}

// stepsHeight is how much room steps take on one page.
func (b *book) stepsHeight(numbers []int) units.Length {
	sum := units.Length(0)
	for _, n := range numbers {
		sum += b.block(&b.r.Steps[n-1], nil).height
	}
	return sum
}

// capital starts a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
