package plan_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
)

// listed makes a tiny plan in which a role may be of either of two fabrics, on one
// ornament in three of one of them throughout; nil if it has no such role.
func listed(r *rand.Rand) *plan.Plan {
	p := tinyPlan(r, 0)
	if len(p.Fabrics) < 2 {
		return nil
	}
	p.Make = p.Make[:1]
	p.Make[0].Count = 1 + r.IntN(3)
	f := &p.Make[0].Colourway[0]
	other := p.Fabrics[0].Name
	if f.Fabric == other {
		other = p.Fabrics[1].Name
	}
	f.Or = []plan.Named{{Name: other}}
	if r.IntN(3) == 0 {
		o := p.Ornament(p.Make[0].Ornament)
		o.Same = append(o.Same, plan.Named{Name: f.Role})
	}
	return p
}

// divided tells whether n ornaments of the only order can be cut, however the
// pieces of its first role are divided.
func (j *judge) divided(n int) bool {
	order := &j.p.Make[0]
	o := j.p.Ornament(order.Ornament)
	shared := order.Colourway[0]
	list := shared.Any()
	step := 1
	if len(o.Same) > 0 {
		step = o.Pieces[0].Roles[0].Count
	}
	total := n * o.Pieces[0].Roles[0].Count
	for first := 0; first <= total; first += step {
		good := true
		for i, f := range j.p.Fabrics {
			c := j.fabric[i]
			need := make([]int, len(c.sizes))
			for _, round := range o.Pieces {
				at := slices.Index(c.sizes, round.Size)
				role := round.Roles[0].Role
				switch {
				case role != shared.Role:
					for _, fill := range order.Colourway {
						if fill.Role == role && fill.Fabric == f.Name {
							need[at] += n * round.Roles[0].Count
						}
					}
				case f.Name == list[0].Name:
					need[at] += first
				default:
					need[at] += total - first
				}
			}
			good = good && j.holds(i, need)
		}
		if good {
			return true
		}
	}
	return false
}

// With a role that two fabrics may fill, nothing found is more than exhaustive
// search over all divisions finds and no bound is below it.
func TestMakesWithListsAgreesWithExhaustiveSearch(t *testing.T) {
	plans := 200
	if testing.Short() {
		plans = 60
	}
	numbers, below := 0, 0
	for seed := range plans {
		p := listed(rand.New(rand.NewPCG(uint64(seed), 43)))
		if p == nil {
			continue
		}
		j := newJudge(p)
		most := 0
		for j.divided(most + 1) {
			most++
		}
		m, err := plan.SolveMakes(context.Background(), p, plan.MakesOptions{Options: plan.Options{Effort: pack.Quick}})
		require.NoError(t, err, "seed %d", seed)
		require.Len(t, m.Lines, 1)
		for _, n := range []struct {
			what string
			got  plan.Most
			want int
		}{{"alone", m.Lines[0].Alone, most}, {"mix", m.Mix, min(most, p.Make[0].Count)}} {
			require.LessOrEqual(t, n.got.Found, n.want, "seed %d: %s", seed, n.what)
			require.GreaterOrEqual(t, n.got.AtMost, n.want, "seed %d: %s", seed, n.what)
			numbers++
			if n.got.Found < n.want {
				below++
				t.Logf("seed %d: %s: found %d of %d", seed, n.what, n.got.Found, n.want)
			}
		}
	}
	require.Greater(t, numbers, plans/4)
	t.Logf("%d of %d numbers are below the true ones", below, numbers)
	// Not every division is tried.
	assert.LessOrEqual(t, below*100, numbers*5)
}
