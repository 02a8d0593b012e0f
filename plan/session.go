package plan

import "pinfold/pack"

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
