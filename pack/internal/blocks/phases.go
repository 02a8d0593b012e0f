package blocks

// work goes on with the present phase for about the given number of steps.
func (f *FillSearch) work(steps int64) {
	switch f.phase {
	case opening:
		if f.s.cells() > pricedCells {
			f.open()
		}
		f.phase = unlimited
	case unlimited, pricing:
		if f.rough != nil {
			f.steps += 1 + 2*f.rough.run(steps/2+1, f.next()-1, nil)
			if f.rough.done {
				with := finePace
				with.rounds = int(min(int64(with.rounds), 5+fineSteps/(2*f.relax.steps())))
				f.prices.refine(f.rough.bestPrice, with)
				f.rough = nil
			}
			return
		}
		f.steps += 1 + 2*f.prices.run(steps/2+1, f.next()-1, f.offerOver)
		f.price()
	case relaxing:
		before := f.relax.steps()
		if f.relax.run(steps/2 + 1) {
			f.reverse()
		}
		f.steps += 2 * (f.relax.steps() - before)
	case reversing:
		before := f.out.steps
		if f.out.run(steps/2 + 1) {
			f.enum = newEnumeration(f.s, f.pack, f.out, f.memory)
			f.enum.worth, f.enum.value = f.prices.worth, f.value
			f.enum.scale, f.enum.base = f.prices.scale, f.prices.base(f.prices.bestPrice)
			f.probe = probe{room: 20_000, width: 1, top: 4}
			if f.patience < 0 {
				f.patience = 2*f.steps + 100_000*stepsPerUnit
			}
			f.phase = probing
		}
		f.steps += 2 * (f.out.steps - before)
	case probing:
		if f.patience > 0 && f.steps > f.patience {
			f.reprice()
			return
		}
		if f.mends() {
			f.mend(min(steps, 2_000*stepsPerUnit))
			return
		}
		f.enumerate(min(steps, 4_000*stepsPerUnit))
	}
}

// price goes from one phase of pricing to the next.
func (f *FillSearch) price() {
	p := f.prices
	if p.bound < 0 {
		return
	}
	by := "priced copies"
	if f.phase == unlimited {
		by = "unlimited copies"
	}
	f.lower(p.bound/p.scale, by)
	switch {
	case f.settled():
		f.phase = finished
	case f.phase == unlimited:
		// The demands bind. Without prices the bound may be good enough.
		if c := f.s.coarser(pricedCells); c != f.s {
			f.s = c
			f.relax = newRelax(f.s)
			p.relax, p.bound = f.relax, -1
			p.set(p.bestPrice)
			f.phase = relaxing
			return
		}
		f.reverse()
	case f.phase == pricing && p.done:
		p.set(p.bestPrice)
		f.phase = relaxing
	}
}

// reprice looks for better prices.
func (f *FillSearch) reprice() {
	f.patience = 0
	f.phase = pricing
	rough := f.s.coarser(roughCells)
	if rough == f.s {
		f.prices.refine(nil, wholePace)
		return
	}
	f.rough = newPrices(newRelax(rough), f.s.demand, f.value, f.counted, f.prices.free, 0)
	f.rough.scale = f.prices.scale
	f.rough.refine(nil, roughPace)
}

// reverse goes on from a relaxation at the best prices to what fits outside.
func (f *FillSearch) reverse() {
	p := f.prices
	f.guess()
	if p.bound < 0 {
		p.bound = f.relax.total() + p.base(p.bestPrice)
	}
	f.out = newOutside(f.relax)
	f.out.start(p.scale*f.next() - p.base(p.bestPrice))
	f.phase = reversing
}
