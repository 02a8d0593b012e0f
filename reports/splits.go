package reports

import (
	"fmt"
	"strings"

	"pinfold/plan"
)

// splits words how roles with several fabrics are divided: "12 harbour star,
// ground: 7 of navy dot and 5 of storm grey".
func splits(r *plan.Result) []string {
	var out []string
	for _, s := range r.Gathered.Splits {
		order := r.Plan.Make[s.Order]
		var parts []string
		for _, share := range s.Shares {
			switch {
			case share.Count == 0:
			case s.Piece == "":
				parts = append(parts, fmt.Sprintf("%s of %s", thousands(int64(share.Count)), plain(share.Fabric)))
			default:
				parts = append(parts, fmt.Sprintf("%s of %s", counted(share.Count, "piece"), plain(share.Fabric)))
			}
		}
		what := plain(s.Role)
		if s.Piece != "" {
			what = fmt.Sprintf("%s (%s)", plain(s.Piece), plain(s.Role))
		}
		out = append(out, fmt.Sprintf("%s %s, %s: %s", thousands(int64(order.Count)), plain(order.Ornament), what, list(parts)))
	}
	return out
}

// cloths lists the fabrics that an order is cut from, each once, in the order of
// its colourway.
func cloths(r *plan.Result, order int) string {
	var out []string
	seen := map[string]bool{}
	for _, f := range r.Plan.Make[order].Colourway {
		for _, n := range f.Any() {
			if name := plain(n.Name); !seen[name] && r.Uses(order, n.Name) {
				seen[name] = true
				out = append(out, name)
			}
		}
	}
	return strings.Join(out, ", ")
}
