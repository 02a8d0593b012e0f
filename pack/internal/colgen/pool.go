package colgen

import "pinfold/pack/internal/model"

// pool keeps every pattern met, one for each content, and passes them on.
type pool struct {
	next     model.Sink
	patterns []model.Pattern
}

// Offer implements [model.Sink].
func (p *pool) Offer(q model.Pattern) {
	p.patterns = append(p.patterns, q)
	if p.next != nil {
		p.next.Offer(q)
	}
}
