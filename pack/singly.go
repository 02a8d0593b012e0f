package pack

// Singly counts the passes of layouts when every sheet is cut by itself and every
// cut made by itself, however long it is: the cuts, the squared sides and the
// selvages, sheet by sheet. It is what stacking is measured against.
func (p Problem) Singly(layouts []Layout) int {
	n := 0
	for _, l := range layouts {
		_, _, m, selvages := p.raw(l)
		n += l.Copies * (l.CutCount() + selvages + sides(m.Left, m.Right, m.Bottom, m.Top))
	}
	return n
}
