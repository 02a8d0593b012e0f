package ruin

// What steers the search. All were chosen by how many of about 180 bin-packing
// problems are solved in a tenth of a second; none is sharp.
const (
	mostNodes = 11  // nodes taken out in one step, six on average
	blink     = 13  // chance in 256 to overlook a place
	history   = 60  // accepted states the next is compared across
	patience  = 300 // steps without progress before pieces outside gain weight
	gain      = 4   // the part of its area a piece gains then
	fading    = 16  // the part of what it has gained that every piece loses then
	showing   = 64  // gains from one showing of patterns to the sink to the next
)

// rank orders states: less worth outside first, then more value left over.
type rank struct {
	worth, value int64
}

func (a rank) better(b rank) bool {
	return a.worth < b.worth || a.worth == b.worth && a.value > b.value
}

func (s *state) rank() rank { return rank{s.worth, s.value} }

// climb is late acceptance: a state is accepted if it is better than the present
// one, or no worse than the one that many accepted states ago.
type climb struct {
	past  [history]rank
	at    int
	now   rank
	least rank
	stale int // steps since least was set
}

// from starts anew at a state.
func (c *climb) from(r rank) {
	for i := range c.past {
		c.past[i] = r
	}
	c.at, c.now, c.least, c.stale = 0, r, r, 0
}

// bar is the most that may be outside for a state to be accepted.
func (c *climb) bar() int64 { return max(c.now.worth, c.past[c.at].worth) }

// accepts tells whether a state is accepted, and moves to it.
func (c *climb) accepts(r rank) bool {
	past := &c.past[c.at]
	if !r.better(c.now) && past.better(r) {
		return false
	}
	c.now = r
	if r.better(*past) {
		*past = r
	}
	if c.at++; c.at == history {
		c.at = 0
	}
	if r.better(c.least) {
		c.least, c.stale = r, 0
	}
	return true
}

// step ruins the state and recreates it, or leaves it as it was.
func (e *Engine) step() {
	s := &e.s
	if e.climb.stale++; e.climb.stale > patience {
		e.weigh()
	}
	s.work += stepWork
	s.ruin(mostNodes, &e.rnd)
	if !s.recreate(e.climb.bar(), &e.rnd, blink) || !e.climb.accepts(s.rank()) {
		s.back()
		s.mark()
		return
	}
	s.mark()
	if len(s.list) == 0 {
		e.complete()
		e.tighten()
	}
}

// weigh makes the pieces outside weigh more, those that gained weight earlier
// less, and starts anew from where the search stands.
func (e *Engine) weigh() {
	s := &e.s
	for i := range s.items {
		it := &s.items[i]
		it.worth -= (it.worth - it.area) / fading
	}
	s.worth = 0
	for _, i := range s.list {
		it := &s.items[i]
		it.worth += max(1, it.area/gain)
		s.worth += it.worth * int64(s.outs[i])
	}
	s.arrange(byWorth)
	s.mark()
	e.climb.from(s.rank())
	if e.rises++; e.rises%showing == 0 {
		e.offer()
	}
}
