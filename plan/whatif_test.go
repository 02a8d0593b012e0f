package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

const changeable = `ornaments:
  star: {ball: 3, pieces: [{name: centre, size: 2 x 2, count: 8, role: ground}, {name: rim, size: 2 x 2, count: 8, role: rim}, {name: tip, size: 2 x 2, count: 8, role: tip}]}
make: [{ornament: star, count: 1, colourway: {ground: navy dot, rim: "sail = cloth", tip: scraps}}]
fabrics:
  navy dot: {buy: [{fat quarter: 3}, {fat quarter: 3, size: 18 x 21}, {fat eighth: 2}, {yard: 8}]}
  "sail = cloth": {bolt: {width: 44, usable: 42}, shrinks: {length: 3%, width: 2%}, buy: [{yard: 8}]}
  scraps: {}
stash: [{fabric: scraps, size: 20 x 20}]
`

func TestWhatIfChangesACopy(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(changeable), nil)
	require.NoError(t, err)
	require.Len(t, p.Notes, 1)
	q, told, err := p.With(WhatIf{Usable: []string{"navy dot = 39 1/2"}, Shrinks: []string{"4,5%"}, FatQuarter: []string{"17 1/2 x 20"}})
	require.NoError(t, err)
	assert.Equal(t, []string{
		"navy dot: 39 1/2 in usable instead of 40 in",
		"navy dot: shrinks 4.5% instead of 0%",
		"sail = cloth: shrinks 4.5% instead of 3% x 2%",
		"navy dot: fat quarters of 17 1/2 x 20 in instead of 18 x 19 3/4 in",
		"navy dot: fat quarters of 17 1/2 x 20 in instead of 18 x 21 in",
	}, told)
	f := q.Fabric("navy dot")
	assert.Equal(t, 79*inch/2, f.Usable)
	assert.Equal(t, units.Size{Along: 9 * inch, Across: 79 * inch / 4}, f.Buy[2].Size, "half of the real width")
	assert.Equal(t, 450, q.Fabric("sail = cloth").ShrinksWidth)
	assert.Empty(t, q.Notes, "what was assumed is now said")

	again, err := Parse("plan.yaml", []byte(changeable), nil)
	require.NoError(t, err)
	assert.Equal(t, again, p, "the plan itself is as it was")
}

func TestWhatIfForOneFabric(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(changeable), nil)
	require.NoError(t, err)
	_, told, err := p.With(WhatIf{Shrinks: []string{"sail = cloth=5%"}})
	require.NoError(t, err)
	assert.Equal(t, []string{"sail = cloth: shrinks 5% instead of 3% x 2%"}, told)
	_, told, err = p.With(WhatIf{})
	require.NoError(t, err)
	assert.Empty(t, told)
}

func TestWhatIfRefuses(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(changeable), nil)
	require.NoError(t, err)
	for _, c := range []struct {
		w    WhatIf
		want string
	}{
		{WhatIf{Usable: []string{"navy dott=41"}}, `there is no fabric "navy dott": did you mean "navy dot"?`},
		{WhatIf{Usable: []string{"velvet=41"}}, `there is no fabric "velvet": write one of navy dot, sail = cloth, scraps`},
		{WhatIf{Usable: []string{"sail = cloth=45"}}, `"45" cannot be the usable width of "sail = cloth": write the width between the selvages`},
		{WhatIf{Usable: []string{"navy dot=1/2"}}, `"1/2" cannot be the usable width of "navy dot": write the width between the selvages`},
		{WhatIf{Usable: []string{"scraps=41"}}, `fabric "scraps" is not bought`},
		{WhatIf{Shrinks: []string{"4"}}, `shrinking: "4" has no percent sign: write 4%`},
		{WhatIf{Shrinks: []string{"51%"}}, `"51%" is more than cloth shrinks: write at most 50%`},
		{WhatIf{Usable: []string{"forty"}}, `usable width: cannot read "forty" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`},
		{WhatIf{FatQuarter: []string{"18"}}, `fat quarter: cannot read "18" as a size: write two lengths with x between them, like 2 1/2 x 4`},
		{WhatIf{FatQuarter: []string{"sail = cloth=18 x 20"}}, `fabric "sail = cloth" is not sold in fat quarters`},
	} {
		_, _, err := p.With(c.w)
		assert.EqualError(t, err, c.want)
	}
}
