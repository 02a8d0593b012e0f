package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// base is a sound plan that the cases below break one at a time.
const base = `ornaments:
  star:
    ball: 3 in
    pieces:
      - {name: centre, size: 2 x 2, count: 10, role: ground}
    band: {width: 2, role: ground}
make:
  - {ornament: star, count: 2, colourway: {ground: navy dot}}
fabrics:
  navy dot:
    bolt: {width: 44, usable: 42}
    buy:
      - {fat quarter: 3.25}
`

func TestBaseIsSound(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(base), nil)
	require.NoError(t, err)
	assert.Empty(t, p.Warnings)
	assert.Empty(t, p.Notes)
}

// Each case replaces texts of base, in pairs of old and new.
var faultyEdits = []struct {
	name  string
	edits []string
	want  []string
}{
	{"unknown key near", []string{"count: 10", "cuont: 10"}, []string{
		`plan.yaml:5:37: unknown key "cuont" in a piece: did you mean "count"?`,
	}},
	{"prices of supplies", []string{"    band:", `    supplies:
      - {name: pins, count: 10, price: cheap}
      - {name: pegs, count: 10, price: 0.00001}
      - {name: tags, count: 10, price: -1}
      - {name: rope, length: 10, price: 1}
      - {name: yarn, length: 10, per: 1 yd}
      - {name: lace, length: 10, price: 1, per: 0}
      - {name: bell, count: 1, price: 1, per: 1 yd}
      - {name: gold, count: 1, price: 1000000.01}
    band:`}, []string{
		`plan.yaml:7:40: price: cannot read "cheap" as a price: write a number with at most four decimals and no sign of money, like 0.02`,
		`plan.yaml:8:40: price: cannot read "0.00001" as a price: write a number with at most four decimals and no sign of money, like 0.02`,
		`plan.yaml:9:40: price: price "-1" is negative: write one like 0.02`,
		`plan.yaml:10:41: supply "rope" does not say what length its price is for: write per: 1 yd, or the length the price is for`,
		`plan.yaml:11:39: supply "yarn" has per without a price: write the price of that length, or leave per out`,
		`plan.yaml:12:49: per is 0: write a length above 0`,
		`plan.yaml:13:47: supply "bell" is counted, so its price is that of one: write the price of one and leave per out`,
		`plan.yaml:14:39: price: price "1000000.01" is too much: write at most 1000000`,
	}},
	{"unknown key", []string{"    ball: 3 in", `    ball: 3 in
    weight: 3`}, []string{
		`plan.yaml:4:5: unknown key "weight" in ornament "star": write one of ball, pieces, band, supplies, same fabric`,
	}},
	{"unknown top key", []string{"make:", "makes:"}, []string{
		`plan.yaml:7:1: unknown key "makes" in the plan: did you mean "make"?`,
	}},
	{"missing keys of a piece", []string{"{name: centre, size: 2 x 2, count: 10, role: ground}", "{}"}, []string{
		`plan.yaml:5:9: a piece has no name: write name: centre, or whatever the round is called`,
		`plan.yaml:5:9: a piece has no size: write size: 2 1/2 x 2 1/2`,
		`plan.yaml:5:9: a piece has no role: write role: a word of your own, like ground, that each colourway fills`,
		`plan.yaml:5:9: a piece has no count: write count: how many on the whole ball`,
	}},
	{"missing ball", []string{"    ball: 3 in", "    ball:"}, []string{
		`plan.yaml:3:10: ornament "star" has no ball: write ball: 3 in`,
	}},
	{"no pieces", []string{`    pieces:
      - {name: centre, size: 2 x 2, count: 10, role: ground}
    band: {width: 2, role: ground}`, "    pieces: []"}, []string{
		`plan.yaml:2:3: ornament "star" has no pieces: write pieces: and a list like - {name: centre, size: 2 1/2 x 2 1/2, count: 10, role: ground}`,
	}},
	{"ornament not defined, near", []string{"{ornament: star", "{ornament: staar"}, []string{
		`plan.yaml:8:16: ornament "staar" is not defined: did you mean "star"?`,
	}},
	{"ornament not defined", []string{"{ornament: star", "{ornament: gull"}, []string{
		`plan.yaml:8:16: ornament "gull" is not defined: write star`,
	}},
	{"unknown fabric near", []string{"{ground: navy dot}", "{ground: Navy-dot}"}, []string{
		`plan.yaml:8:52: fabric "Navy-dot" of role "ground" is not defined: did you mean "navy dot"?`,
	}},
	{"unknown fabric", []string{"{ground: navy dot}", "{ground: sand}"}, []string{
		`plan.yaml:8:52: fabric "sand" of role "ground" is not defined: write navy dot`,
	}},
	{"missing role", []string{"colourway: {ground: navy dot}", "colourway: {}"}, []string{
		`plan.yaml:8:16: the colourway names no fabric for role "ground" of ornament "star": write colourway: {ground: and a fabric}`,
	}},
	{"no colourway", []string{", colourway: {ground: navy dot}", ""}, []string{
		`plan.yaml:8:16: the colourway names no fabric for role "ground" of ornament "star": write colourway: {ground: and a fabric}`,
	}},
	{"unknown role", []string{"{ground: navy dot}", "{ground: navy dot, tirm: navy dot}"}, []string{
		`plan.yaml:8:68: ornament "star" has no role "tirm": its roles are ground`,
	}},
	{"role twice", []string{"{ground: navy dot}", "{ground: navy dot, ground: navy dot}"}, []string{
		`plan.yaml:8:62: role "ground" stands twice, first on line 8: keep one of them, or give each its own name`,
	}},
	{"piece too large", []string{"2 x 2", "20 x 21"}, []string{
		`plan.yaml:5:30: piece "centre" of 20 x 21 in fits no cloth of fabric "navy dot": the largest leaves 17 1/2 x 20 3/4 in: add a larger cut or a length to the fabric, fill the role with another one, or make the piece smaller`,
	}},
	{"piece too large only because one-way", []string{"2 x 2", "20 x 16", "  navy dot:", `  navy dot:
    direction: one-way`}, []string{
		`plan.yaml:5:30: piece "centre" of 20 x 16 in fits no cloth of fabric "navy dot", which may not be turned: the largest leaves 17 1/2 x 20 3/4 in: add a larger cut or a length to the fabric, fill the role with another one, or make the piece smaller`,
	}},
	{"piece larger than what a bolt leaves", []string{"2 x 2", "43 x 43", "fat quarter: 3.25", "yard: 3.25"}, []string{
		`plan.yaml:5:30: piece "centre" of 43 x 43 in fits no cloth of fabric "navy dot": it is 42 in wide: add a larger cut or a length to the fabric, fill the role with another one, or make the piece smaller`,
	}},
	{"piece larger than the most of a bolt", []string{"2 x 2", "19 x 40", "fat quarter: 3.25", "yard: 3.25, most: 1/2 yd"}, []string{
		`plan.yaml:5:30: piece "centre" of 19 x 40 in fits no cloth of fabric "navy dot": the most that can be bought leaves 17 1/2 x 42 in: add a larger cut or a length to the fabric, fill the role with another one, or make the piece smaller`,
	}},
	{"none available", []string{"fat quarter: 3.25", "fat quarter: 3.25, available: 0"}, []string{
		`plan.yaml:5:30: piece "centre" of 2 x 2 in fits no cloth of fabric "navy dot": none of it is available: add a larger cut or a length to the fabric, fill the role with another one, or make the piece smaller`,
		`plan.yaml:6:19: the band of 2 x 10 1/2 in fits no cloth of fabric "navy dot": none of it is available: add a larger cut or a length to the fabric, fill the role with another one, or make the piece smaller`,
	}},
	{"band too long", []string{"ball: 3 in", "ball: 10 in"}, []string{
		`plan.yaml:6:19: the band of 2 x 32 1/2 in fits no cloth of fabric "navy dot": the largest leaves 17 1/2 x 20 3/4 in: add a larger cut or a length to the fabric, fill the role with another one, or make the piece smaller`,
	}},
	{"squaring uses all up", []string{"fabrics:", `cutting: {squaring: 9}
fabrics:`}, []string{
		`plan.yaml:5:30: piece "centre" of 2 x 2 in fits no cloth of fabric "navy dot": squaring leaves nothing of it: add a larger cut or a length to the fabric, fill the role with another one, or make the piece smaller`,
		`plan.yaml:6:19: the band of 2 x 10 1/2 in fits no cloth of fabric "navy dot": squaring leaves nothing of it: add a larger cut or a length to the fabric, fill the role with another one, or make the piece smaller`,
	}},
	{"negative count", []string{"count: 10", "count: -10"}, []string{
		`plan.yaml:5:44: count: "-10" is negative: write a whole number from 1 to 1000000`,
	}},
	{"zero count", []string{"count: 10", "count: 0"}, []string{
		`plan.yaml:5:44: count: 0 is too few: write a whole number from 1`,
	}},
	{"fractional count", []string{"count: 10", "count: 10.0"}, []string{
		`plan.yaml:5:44: count: "10.0" is not a whole number: write one from 1 to 1000000`,
	}},
	{"huge count", []string{"count: 10", "count: 99999999999999999999"}, []string{
		`plan.yaml:5:44: count: 99999999999999999999 is too many: write a whole number up to 1000000`,
	}},
	{"negative length", []string{"ball: 3 in", "ball: -3 in"}, []string{
		`plan.yaml:3:11: ball: length "-3 in" is negative: write it without the minus`,
	}},
	{"zero ball", []string{"ball: 3 in", "ball: 0"}, []string{
		`plan.yaml:3:11: ball is 0: write a length above 0`,
	}},
	{"absurd ball", []string{"ball: 3 in", "ball: 3 yd ", "3 yd ", "30 yd"}, []string{
		`plan.yaml:3:11: ball of 1080 in is too much: write at most 118 in`,
	}},
	{"length too large", []string{"ball: 3 in", "ball: 99999999999 in"}, []string{
		`plan.yaml:3:11: ball: length "99999999999 in" is too large: the most is 6710 m`,
	}},
	{"not a length", []string{"ball: 3 in", "ball: three"}, []string{
		`plan.yaml:3:11: ball: cannot read "three" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
	}},
	{"not a size", []string{"2 x 2", "2 by 2"}, []string{
		`plan.yaml:5:30: size: cannot read "2 by 2" as a size: write two lengths with x between them, like 2 1/2 x 4`,
	}},
	{"unknown unit of length", []string{"2 x 2", "2 x 2 ells"}, []string{
		`plan.yaml:5:30: size: unknown unit "ells" in " 2 ells": write in, cm, mm, m, yd or ft`,
	}},
	{"negative price", []string{"3.25", "-3.25"}, []string{
		`plan.yaml:13:23: fat quarter: price "-3.25" is negative: write one like 3.25`,
	}},
	{"price with a sign of money", []string{"3.25", "$3.25"}, []string{
		`plan.yaml:13:23: fat quarter: cannot read "$3.25" as a price: write a number with at most two decimals and no sign of money, like 3.25`,
	}},
	{"price with three decimals", []string{"3.25", "3.255"}, []string{
		`plan.yaml:13:23: fat quarter: cannot read "3.255" as a price: write a number with at most two decimals and no sign of money, like 3.25`,
	}},
	{"absurd price", []string{"3.25", "99999999"}, []string{
		`plan.yaml:13:23: fat quarter: price "99999999" is too much: write at most 1000000`,
	}},
	{"priced and unpriced", []string{"      - {fat quarter: 3.25}", `      - {fat quarter: 3.25}
      - fat eighth`}, []string{
		`plan.yaml:14:9: fabric "navy dot" has offers with and without a price: write the price, or leave out all prices of the fabric`,
	}},
	{"offer of nothing", []string{"{fat quarter: 3.25}", "{size: 18 x 21}"}, []string{
		`plan.yaml:13:10: unknown key "size" in an offer: write one of fat quarter, fat eighth, yard, metre, cut`,
	}},
	{"offer misspelt", []string{"{fat quarter: 3.25}", "{fat quater: 3.25}"}, []string{
		`plan.yaml:13:10: unknown key "fat quater" in an offer: did you mean "fat quarter"?`,
	}},
	{"key of another offer", []string{"{fat quarter: 3.25}", "{fat quarter: 3.25, step: 1/8 yd}"}, []string{
		`plan.yaml:13:29: unknown key "step" in an offer: write one of fat quarter, size, available`,
	}},
	{"two offers in one", []string{"{fat quarter: 3.25}", "{fat quarter: 3.25, fat eighth: 2}"}, []string{
		`plan.yaml:13:29: unknown key "fat eighth" in an offer: write one of fat quarter, size, available`,
	}},
	{"own cut without size and name", []string{"{fat quarter: 3.25}", "{cut: 3.25}"}, []string{
		`plan.yaml:13:9: an offer has no name: write name: ten inch square, or whatever the cut is called`,
		`plan.yaml:13:9: an offer has no size: write size: 10 x 10`,
	}},
	{"fat quarter wider than the bolt", []string{"{fat quarter: 3.25}", "{fat quarter: 3.25, size: 18 x 50}"}, []string{
		`plan.yaml:13:35: a fat quarter 50 in across is wider than the bolt: write along the selvage x across, like 18 x 21`,
	}},
	{"most below least", []string{"{fat quarter: 3.25}", "{yard: 3.25, least: 1 yd, most: 1/2 yd}"}, []string{
		`plan.yaml:13:41: most 18 in is less than the shortest length sold, 36 in: write the longest length that can be had, or leave it out`,
	}},
	{"nothing to buy nor in stash", []string{`    buy:
      - {fat quarter: 3.25}`, ""}, []string{
		`plan.yaml:10:3: fabric "navy dot" can neither be bought nor is any in the stash: write buy: and a list like - {fat quarter: 3.25}, or add it to the stash`,
	}},
	{"usable more than the bolt", []string{"usable: 42", "usable: 45"}, []string{
		`plan.yaml:11:31: usable width 45 in is more than the bolt's 44 in: write the width between the selvages`,
	}},
	{"narrow bolt", []string{"{width: 44, usable: 42}", "{width: 3}"}, []string{
		`plan.yaml:11:11: a bolt of 3 in leaves nothing between usual selvages: write usable: and the width between the selvages`,
	}},
	{"shrinks without percent", []string{"    buy:", `    shrinks: {length: 3, width: 60%}
    buy:`}, []string{
		`plan.yaml:12:23: length: "3" has no percent sign: write 3%`,
		`plan.yaml:12:33: width of 60% is too much: write at most 50%`,
	}},
	{"shrinks as one value", []string{"    buy:", `    shrinks: 3%
    buy:`}, []string{
		`plan.yaml:12:14: shrinks cannot be the text "3%": write keys with values, like length: ..., width: ...`,
	}},
	{"negative shrinkage", []string{"    buy:", `    shrinks: {length: -3%, width: 3.125%}
    buy:`}, []string{
		`plan.yaml:12:23: length: "-3%" is negative: write a percentage like 5%`,
		`plan.yaml:12:35: width: cannot read "3.125%" as a percentage: write one like 5% or 2.5%`,
	}},
	{"unknown direction", []string{"    buy:", `    direction: oneway
    buy:`}, []string{
		`plan.yaml:12:16: unknown direction "oneway": did you mean "one-way"?`,
	}},
	{"unknown unit", []string{"ornaments:", `unit: ell
ornaments:`}, []string{
		`plan.yaml:1:7: unknown unit "ell": write in or cm`,
	}},
	{"duplicate ornament", []string{"make:", `  star:
    ball: 2
    pieces: []
make:`}, []string{
		`plan.yaml:7:3: ornament "star" stands twice, first on line 2: keep one of them, or give each its own name`,
	}},
	{"duplicate piece", []string{"    band:", `      - {name: centre, size: 2 x 2, count: 10, role: ground}
    band:`}, []string{
		`plan.yaml:6:30: ornament "star" has two rounds named "centre": give each round its own name`,
	}},
	{"piece called band", []string{"name: centre", "name: band"}, []string{
		`plan.yaml:5:28: a round named "band" is taken for the band of ornament "star": give the round another name`,
	}},
	{"duplicate fabric", []string{"fabrics:", `fabrics:
  navy dot: {}`}, []string{
		`plan.yaml:10:3: fabric "navy dot" can neither be bought nor is any in the stash: write buy: and a list like - {fat quarter: 3.25}, or add it to the stash`,
		`plan.yaml:11:3: fabric "navy dot" stands twice, first on line 10: keep one of them, or give each its own name`,
	}},
	{"duplicate key", []string{"    ball: 3 in", `    ball: 3 in
    ball: 2 in`}, []string{
		`plan.yaml:4:5: key "ball" stands twice in ornament "star": leave one of them out`,
	}},
	{"around with role", []string{`role: ground}
    band`, `role: ground, around: [ground]}
    band`}, []string{
		`plan.yaml:5:54: piece "centre" has both a role and around: leave role or around out`,
	}},
	{"around against count", []string{"count: 10, role: ground", "count: 10, around: [ground, ground]"}, []string{
		`plan.yaml:5:44: count is 10, but around has 2 places, 4 on both sides together: write count: 4 or leave it out`,
	}},
	{"around against count on one side", []string{"count: 10, role: ground", "count: 10, around: [ground, ground], side: front"}, []string{
		`plan.yaml:5:44: count is 10, but around has 2 places, 2 on its one side: write count: 2 or leave it out`,
	}},
	{"around empty and no list", []string{"count: 10, role: ground}", `around: []}
      - {name: two, size: 1 x 2, around: ground}
      - {name: three, size: 1 x 2, around: [ground, [x], ""]}`}, []string{
		`plan.yaml:5:45: around is empty: write a role for each place, like [ground, accent, ground, trim]`,
		`plan.yaml:6:42: around cannot be the text "ground": write a list, like [ground, accent, ground, trim]`,
		`plan.yaml:7:53: role cannot be a list: write one value`,
		`plan.yaml:7:58: role has an empty name: write a name`,
	}},
	{"unknown side", []string{"count: 10", "count: 10, side: bottom"}, []string{
		`plan.yaml:5:54: unknown side "bottom": write one of both, front, back`,
	}},
	{"from beyond the ball", []string{"count: 10", "count: 10, from: 5"}, []string{
		`plan.yaml:5:54: from 5 in lies beyond the other pole of a ball of 3 in: write how far from the pole the round starts, like 1/2`,
	}},
	{"band faults", []string{"{width: 2, role: ground}", "{width: 2, shows: 3, overlap: -1}"}, []string{
		`plan.yaml:6:11: the band has no role: write role: a word of your own, like ground, that each colourway fills`,
		`plan.yaml:6:29: the band shows 3 in but is cut only 2 in wide: write its width once folded`,
		`plan.yaml:6:41: overlap: length "-1" is negative: write it without the minus`,
	}},
	{"supplies", []string{"make:", `    supplies:
      - {name: pins}
      - {name: cord, count: 2, length: 10 in}
      - {count: x}
make:`}, []string{
		`plan.yaml:8:9: supply "pins" has neither count nor length: write count: 210 or length: 10 in`,
		`plan.yaml:9:40: supply "cord" has a count and a length: write the count in one entry and the length, all in all, in another`,
		`plan.yaml:10:9: a supply has no name: write name: straight pins`,
		`plan.yaml:10:17: count: "x" is not a whole number: write one from 1 to 1000000`,
	}},
	{"nothing to make", []string{`make:
  - {ornament: star, count: 2, colourway: {ground: navy dot}}`, "make: []"}, []string{
		`plan.yaml:7:7: there is nothing to make: list at least one ornament`,
	}},
	{"make as a mapping", []string{"  - {ornament: star, count: 2, colourway: {ground: navy dot}}", "  star: 2"}, []string{
		`plan.yaml:8:3: make cannot be keys with values: write a list, like - {ornament: harbour star, count: 12, colourway: {ground: navy dot}}`,
	}},
	{"cutting faults", []string{"fabrics:", `cutting: {squaring: 20, keep: 2, spare: 5, ruler: 0, layers: 40, prefer: speed, kerf: 2, stages: 11}
fabrics:`}, []string{
		`plan.yaml:9:21: squaring of 20 in is too much: write what is trimmed off a raw edge, like 1/4 in`,
		`plan.yaml:9:31: keep: cannot read "2" as a size: write two lengths with x between them, like 2 1/2 x 4`,
		`plan.yaml:9:41: spare: "5" has no percent sign: write 5%`,
		`plan.yaml:9:51: ruler is 0: write a length above 0`,
		`plan.yaml:9:62: layers: 40 is too many: write a whole number up to 12`,
		`plan.yaml:9:74: unknown preference "speed": write one of thrift, fewer passes, balanced`,
		`plan.yaml:9:87: kerf of 2 in is too much: write 0 for a rotary cutter`,
		`plan.yaml:9:98: stages: 11 is too many: write a whole number up to 10`,
	}},
	{"too many pieces", []string{"count: 2,", "count: 200000,"}, []string{
		`plan.yaml:10:3: fabric "navy dot": more than 1000000 pieces of 2 x 2 in: split the plan, or make fewer`,
	}},
	{"too many ornaments", []string{"count: 2,", "count: 1000001,"}, []string{
		`plan.yaml:8:29: count: 1000001 is too many: write a whole number up to 1000000`,
	}},
	{"decimal comma in braces", []string{"2 x 2,", "2,5 x 2,"}, []string{
		`plan.yaml:5:30: size: cannot read "2" as a size: write two lengths with x between them, like 2 1/2 x 4`,
		`plan.yaml:5:32: unknown key "5 x 2" in a piece: a decimal comma inside { } or [ ] needs quotes or a point: write "2,5" or 2.5`,
	}},
	{"decimal comma in braces at the end", []string{"{fat quarter: 3.25}", "{fat quarter: 3,25}"}, []string{
		`plan.yaml:13:25: unknown key "25" in an offer: a decimal comma inside { } or [ ] needs quotes or a point: write "2,5" or 2.5`,
	}},
	{"stash leaves the folder", []string{"fabrics:", `stash: ../stash.csv
fabrics:`}, []string{
		`plan.yaml:9:8: stash "../stash.csv" leaves the plan's folder: write a name like stash.csv, in the plan's folder or below`,
	}},
	{"stash absolute", []string{"fabrics:", `stash: /etc/passwd
fabrics:`}, []string{
		`plan.yaml:9:8: stash "/etc/passwd" leaves the plan's folder: write a name like stash.csv, in the plan's folder or below`,
	}},
	{"stash in place", []string{"fabrics:", `stash:
  - {size: 9 x 14}
  - {fabric: navy dot, size: 9, squared: perhaps, count: 0, bad areas: 3 x 3}
  - {fabric: navy dot, size: 9 x 9, bad areas: ["2 x 3 at 0", "1 x 1 at 20, 0", "1 at top left", "1 x 1 at x, y"]}
  - {id: A, fabric: navy dot, size: 9 x 9}
  - {id: A, fabric: navy dot, size: 9 x 8}
fabrics:`}, []string{
		`plan.yaml:10:5: stash piece 1 has no fabric: write the fabric's name as the plan does`,
		`plan.yaml:11:30: size: cannot read "9" as a size: write two lengths with x between them, like 2 1/2 x 4`,
		`plan.yaml:11:42: squared cannot be "perhaps": write yes when all four edges are straight and square, else no`,
		`plan.yaml:11:58: count: 0 is too few: write a whole number from 1`,
		`plan.yaml:12:48: bad area "2 x 3 at 0": cannot read the place "0": write one like 2 x 3 at 0, 4 or 2 x 3 at top left`,
		`plan.yaml:12:48: bad area "1 x 1 at 20, 0" lies outside a piece of 9 x 9 in: measure from the lower left corner, along the selvage first`,
		`plan.yaml:12:48: bad area "1 at top left": cannot read "1" as a size: write two lengths with x between them, like 2 1/2 x 4`,
		`plan.yaml:12:48: bad area "1 x 1 at x, y": cannot read "x" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		`plan.yaml:14:5: stash id "A" stands twice, first on line 13: give each piece its own id; equal pieces are one line with a count`,
	}},
	{"merge key", []string{"    ball: 3 in", "    <<: {ball: 3 in}"}, []string{
		`plan.yaml:2:3: ornament "star" has no ball: write ball: 3 in`,
		`plan.yaml:3:5: ornament "star" uses <<, which plans do not know: write the keys out`,
	}},
	{"alias", []string{"    ball: 3 in", "    ball: &b 3 in", "width: 2,", "width: *b ,"}, []string{
		`plan.yaml:3:11: &b names a value, which plans do not know: leave it out, or put quotes around a text that starts with &`,
		`plan.yaml:6:19: *b stands for another value, which plans do not know: write the value out, or put quotes around a text that starts with *`,
	}},
	{"alias without anchor", []string{"    ball: 3 in", "    ball: *b"}, []string{
		`plan.yaml:3:11: '*' starts an alias, which plans do not know: put quotes around a text that starts with *`,
	}},
	{"empty name", []string{"  star:", `  "":`}, []string{
		`plan.yaml:2:3: ornament has an empty name: write a name`,
	}},
	{"control character in a name", []string{"  star:", `  "st\u0007ar":`}, []string{
		`plan.yaml:2:3: ornament "st\aar" holds a control character: leave it out`,
	}},
	{"list as key", []string{"  star:", `  ? [a, b]
  :`}, []string{
		`plan.yaml:2:5: a key in ornaments cannot be a list: write a plain word`,
	}},
	{"several faults in the order of the file", []string{"{ornament: star, count: 2, colourway: {ground: navy dot}}", "{ornament: star, count: two, colourway: {ground: navy}}", "3 in", "3 inn", "fat quarter: 3.25", "fat quarter: free"}, []string{
		`plan.yaml:3:11: ball: unknown unit "inn" in "3 inn": write in, cm, mm, m, yd or ft`,
		`plan.yaml:8:29: count: "two" is not a whole number: write one from 1 to 1000000`,
		`plan.yaml:8:54: fabric "navy" of role "ground" is not defined: did you mean "navy dot"?`,
		`plan.yaml:13:23: fat quarter: cannot read "free" as a price: write a number with at most two decimals and no sign of money, like 3.25`,
	}},
}

func TestFaultyEdits(t *testing.T) {
	for _, c := range faultyEdits {
		t.Run(c.name, func(t *testing.T) {
			text := base
			for i := 0; i < len(c.edits); i += 2 {
				require.Contains(t, text, c.edits[i])
				text = strings.Replace(text, c.edits[i], c.edits[i+1], 1)
			}
			p, err := Parse("plan.yaml", []byte(text), nil)
			assert.Nil(t, p)
			require.Error(t, err)
			assert.Equal(t, strings.Join(c.want, "\n"), err.Error())
		})
	}
}
