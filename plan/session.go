package plan

import (
	"context"
	"fmt"

	"pinfold/pack"
)

// tidyShare is the part of the effort, in percent, that goes into layouts that are
// better by the plan's preference, at the same cost.
const tidyShare = 20

// tidy lays the fabrics out again as the plan prefers, and works out the passes.
func (r *Result) tidy(ctx context.Context, o Options) error {
	cloths := make([]pack.Cloth, len(r.Fabrics))
	for i, f := range r.Fabrics {
		cloths[i] = pack.Cloth{Problem: f.Problem, Layouts: f.Solution.Layouts}
	}
	prefer := pack.Prefer(r.Plan.Cutting.Prefer)
	cloths = pack.Tidy(ctx, cloths, prefer, pack.Options{Effort: o.Effort, Seed: o.Seed, Workers: o.Workers, Share: tidyShare})
	for i := range r.Fabrics {
		f := &r.Fabrics[i]
		f.Solution = f.Solution.Laid(f.Problem, cloths[i].Layouts)
		if err := pack.Check(f.Problem, f.Solution); err != nil {
			return fmt.Errorf("plan: the layouts of %q fail their check: %w", f.Need.Fabric, err)
		}
	}
	r.Arrange()
	return nil
}

// Arrange puts the layouts of all fabrics in the order that is easiest to cut and
// works out the passes: of each fabric alone, and of the whole plan.
func (r *Result) Arrange() {
	cloths := make([]pack.Cloth, len(r.Fabrics))
	for i, f := range r.Fabrics {
		cloths[i] = pack.Cloth{Problem: f.Problem, Layouts: f.Solution.Layouts}
	}
	pack.Arrange(cloths)
	for i := range r.Fabrics {
		f := &r.Fabrics[i]
		f.Solution.Layouts = cloths[i].Layouts
		f.Passes = f.Problem.Passes(f.Solution.Layouts)
	}
	r.Session = pack.NewSession(cloths)
	r.Passes = r.Session.Passes
}
