package pack

import "slices"

// inOrder puts jobs in the order in which a person does them. Cloths that share
// no job are done one after the other. In each such bench the edges come first,
// then what is largest; what is begun is cut to its end, and a job waits for all
// that lies in its stacks.
func inOrder(jobs []Job, cloths []Cloth) []Job {
	w := newWaiting(jobs, cloths)
	out := make([]Job, 0, len(jobs))
	last := -1
	for len(out) < len(jobs) {
		next := w.next(last)
		w.done[next] = true
		out = append(out, jobs[next])
		for _, j := range w.before[next] {
			w.waits[j]--
		}
		last = next
	}
	return out
}

// waiting keeps what each job waits for.
type waiting struct {
	jobs   []Job
	bench  []int   // of each job: the first layout it is joined to
	waits  []int   // how many jobs it waits for
	before [][]int // the jobs that wait for it
	done   []bool
	ranked []int // jobs by bench, then as they were gathered: largest first
}

// region names what a lot is, whoever cuts it.
type region struct {
	cloth, layout int
	node          *Node
	from          int
}

func newWaiting(jobs []Job, cloths []Cloth) *waiting {
	w := &waiting{
		jobs: jobs, bench: make([]int, len(jobs)), waits: make([]int, len(jobs)),
		before: make([][]int, len(jobs)), done: make([]bool, len(jobs)),
	}
	first := make([]int, len(cloths)+1)
	for i, c := range cloths {
		first[i+1] = first[i] + len(c.Layouts)
	}
	join := make([]int, first[len(cloths)])
	for i := range join {
		join[i] = i
	}
	root := func(i int) int {
		for join[i] != i {
			join[i] = join[join[i]]
			i = join[i]
		}
		return i
	}
	maker := map[region]int{}
	for i, j := range jobs {
		a := root(first[j.Lots[0].Cloth] + j.Lots[0].Layout)
		for _, l := range j.Lots {
			b := root(first[l.Cloth] + l.Layout)
			join[max(a, b)] = min(a, b)
			a = min(a, b)
			if j.Square {
				maker[region{l.Cloth, l.Layout, l.Node, 0}] = i
				continue
			}
			for p := l.From; p < l.From+j.Cuts; p++ {
				maker[region{l.Cloth, l.Layout, l.Node.Parts[p], 0}] = i
			}
			if end := l.From + j.Cuts; end < len(l.Node.At) {
				maker[region{l.Cloth, l.Layout, l.Node, end}] = i
			} else {
				maker[region{l.Cloth, l.Layout, l.Node.Parts[end], 0}] = i
			}
		}
	}
	for i, j := range jobs {
		w.bench[i] = root(first[j.Lots[0].Cloth] + j.Lots[0].Layout)
		w.ranked = append(w.ranked, i)
		if j.Square {
			continue
		}
		seen := map[int]bool{}
		for _, l := range j.Lots {
			m, ok := maker[region{l.Cloth, l.Layout, l.Node, l.From}]
			if ok && !seen[m] {
				seen[m] = true
				w.waits[i]++
				w.before[m] = append(w.before[m], i)
			}
		}
	}
	slices.SortStableFunc(w.ranked, func(a, b int) int { return w.bench[a] - w.bench[b] })
	return w
}

// next is the job to do after the last one.
func (w *waiting) next(last int) int {
	if last >= 0 {
		for _, j := range w.before[last] {
			if w.waits[j] == 0 && !w.done[j] && w.jobs[j].Lots[0].Node == w.jobs[last].Lots[0].Node && w.jobs[j].Count == w.jobs[last].Count {
				return j
			}
		}
	}
	for len(w.ranked) > 0 && w.done[w.ranked[0]] {
		w.ranked = w.ranked[1:]
	}
	for _, j := range w.ranked {
		if !w.done[j] && w.waits[j] == 0 {
			return j
		}
	}
	return w.ranked[0] // not reached: a part is smaller than what it comes from
}
