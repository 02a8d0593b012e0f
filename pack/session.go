package pack

// Passes counts the runs of the cutter that a layout takes: the squared sides
// and selvages first, then every cut of the tree, each once for every stack of
// sheets that lie under the cutter together.
func (p Problem) Passes(l Layout) int {
	var m Margins
	selvages := 0
	if l.Stock.Sheet == FromRoll {
		m, selvages = p.Roll.Squared, p.Roll.Selvages
	} else {
		m, selvages = p.Sheets[l.Stock.Sheet].Squared, p.Sheets[l.Stock.Sheet].Selvages
	}
	cuts := l.CutCount() + selvages
	for _, side := range []bool{m.Left > 0, m.Right > 0, m.Bottom > 0, m.Top > 0} {
		if side {
			cuts++
		}
	}
	layers := max(p.Rules.Layers, 1)
	return cuts * ((l.Copies + layers - 1) / layers)
}
