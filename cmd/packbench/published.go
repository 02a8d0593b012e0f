package main

// published is the best total known for a family in one variant, where that is
// known better than by summing the instances' own best values, or where those
// values' source can be named.
type published struct {
	total  float64 // 0: the sum over the instances
	source string
}

// bestPublished is keyed by family, then by whether pieces may be turned.
var bestPublished = map[string]map[bool]published{
	"bwmv": {
		false: {7233, "Gardeyn & Wauters, EJOR 301(2), 2022 (8 threads, 600 s)"},
		true:  {6977, "by class and size the best of Gardeyn & Wauters 2022, Cui, Yao & Zhang, JORS 69(3), 2018, and Fontan & Libralesso, arXiv 2004.02603, 2020"},
	},
	"cintra_gcutd": {
		false: {0, "Fontan & Libralesso, arXiv 2004.02603, 2020, 3-staged; Chen et al. 2016 need 5063"},
		true:  {0, "Fontan & Libralesso, arXiv 2004.02603, 2020, 2-staged; Cui et al. 2013 need 4692"},
	},
	"hifi_scp": {
		false: {0, "Hifi, Computers & OR 25(11), 1998, and Becker's thesis: proved optima"},
	},
}

// elsewhere is the source of the values written beside the instances.
const elsewhere = "per instance, the best of Becker's thesis (UFRGS, 2022), Fontan & Libralesso (arXiv 2004.02603, 2020) and the papers they compare with"
