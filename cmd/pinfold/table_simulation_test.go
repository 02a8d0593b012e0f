package main

import (
	"fmt"
	"slices"
)

// The result as a person at the table knows it: the cloth, what is wanted, and
// the jobs. The cut trees are left out on purpose.
type (
	tableResult struct {
		Passes  int           `json:"passes"`
		Fabrics []tableFabric `json:"fabrics"`
		Session tableSession  `json:"session"`
	}
	tableFabric struct {
		Fabric string `json:"fabric"`
		Kerf   int64  `json:"kerf"`
		Pieces []struct {
			ID      string `json:"id"`
			W       int64  `json:"w"`
			H       int64  `json:"h"`
			Demand  int    `json:"demand"`
			Turn    bool   `json:"turn"`
			Missing int    `json:"missing"`
		} `json:"pieces"`
		Sheets []tableSheet `json:"sheets"`
	}
	tableSheet struct {
		ID    string `json:"id"`
		Stock struct {
			Kind string `json:"kind"`
		} `json:"stock"`
		Copies     int        `json:"copies"`
		Raw        [2]int64   `json:"raw"`
		Squared    [4]int64   `json:"squared"` // left, right, bottom, top
		Bad        [][4]int64 `json:"bad"`
		Placements []struct {
			Piece  string `json:"piece"`
			X      int64  `json:"x"`
			Y      int64  `json:"y"`
			Turned bool   `json:"turned"`
		} `json:"placements"`
		Offcuts []struct {
			X int64 `json:"x"`
			Y int64 `json:"y"`
			W int64 `json:"w"`
			H int64 `json:"h"`
		} `json:"offcuts"`
	}
	tableSession struct {
		Passes  int        `json:"passes"`
		AtLeast int        `json:"at_least"`
		Layers  int        `json:"layers"`
		Ruler   int64      `json:"ruler"`
		Flat    []string   `json:"flat"`
		Jobs    []tableJob `json:"jobs"`
	}
	tableJob struct {
		Step    int    `json:"step"`
		Part    string `json:"part"`
		W       int64  `json:"w"`
		H       int64  `json:"h"`
		Count   int    `json:"count"`
		Turn    bool   `json:"turn"`
		Axis    string `json:"axis"`
		Measure int64  `json:"measure"`
		Cuts    int    `json:"cuts"`
		tableLay
		Left   int64       `json:"left"`
		Trims  []tableTrim `json:"trims"`
		Passes int         `json:"passes"`
		Lots   []tableLot  `json:"lots"`
	}
	tableLay struct {
		Fold   int   `json:"fold"`
		Lays   int   `json:"lays"`
		Stacks []int `json:"stacks"`
	}
	tableTrim struct {
		Side    string `json:"side"`
		Selvage bool   `json:"selvage"`
		Width   int64  `json:"width"`
		tableLay
		Passes int `json:"passes"`
	}
	tableLot struct {
		Sheet  string     `json:"sheet"`
		Copies int        `json:"copies"`
		Whole  bool       `json:"whole"`
		X      int64      `json:"x"`
		Y      int64      `json:"y"`
		Off    []tableOut `json:"off"`
		Rest   *tableOut  `json:"rest"`
	}
	tableOut struct {
		Piece  string `json:"piece"`
		Turned bool   `json:"turned"`
		Offcut string `json:"offcut"`
		Waste  bool   `json:"waste"`
		Part   string `json:"part"`
		Step   int    `json:"step"`
		Times  int    `json:"times"`
	}
)

// heap is cloth that lies on the table under one name: equal regions of one
// fabric, last cut along one axis.
type heap struct {
	fabric, axis string
	w, h         int64
	count        int
}

// place is where a region lies on its sheet.
type place struct {
	sheet      string
	x, y, w, h int64
}

// table is a room in which a plan is cut: cloth by name, and what is done.
type table struct {
	r       tableResult
	sheets  map[string]*tableSheet
	fabric  map[string]*tableFabric // of a sheet
	heaps   map[string][]heap
	at      map[place]int // regions that may still be cut, in how many copies
	pieces  map[[2]string]int
	offcuts map[place]int
	placed  map[string]int
	passes  int
}

// cutAtTable cuts raw cloth job by job and returns the first thing that cannot
// be done or does not come out as announced.
func cutAtTable(r tableResult) error {
	t := table{
		r: r, sheets: map[string]*tableSheet{}, fabric: map[string]*tableFabric{}, heaps: map[string][]heap{},
		at: map[place]int{}, pieces: map[[2]string]int{}, offcuts: map[place]int{}, placed: map[string]int{},
	}
	for i := range r.Fabrics {
		f := &r.Fabrics[i]
		for j := range f.Sheets {
			s := &f.Sheets[j]
			t.sheets[s.ID], t.fabric[s.ID] = s, f
			t.put("sheet "+s.ID, heap{fabric: f.Fabric, w: s.Raw[0], h: s.Raw[1], count: s.Copies})
			t.at[place{s.ID, -s.Squared[0], -s.Squared[2], s.Raw[0], s.Raw[1]}] = s.Copies
		}
	}
	for i, j := range r.Session.Jobs {
		if j.Step != i+1 {
			return fmt.Errorf("job %d is step %d", i+1, j.Step)
		}
		do := t.cut
		if len(j.Trims) > 0 {
			do = t.square
		}
		if err := do(j); err != nil {
			return fmt.Errorf("step %d: %w", j.Step, err)
		}
	}
	return t.end()
}

func (t *table) put(name string, h heap) {
	for i, was := range t.heaps[name] {
		was.count = h.count
		if was == h {
			t.heaps[name][i].count += h.count
			return
		}
	}
	t.heaps[name] = append(t.heaps[name], h)
}

// take takes everything of a name off the table: as many of each fabric as the
// lots of that name say, all of the job's measures.
func (t *table) take(j tableJob) ([]heap, error) {
	want := map[string]map[string]int{}
	for _, l := range j.Lots {
		if t.sheets[l.Sheet] == nil || l.Copies != t.sheets[l.Sheet].Copies {
			return nil, fmt.Errorf("%d copies of sheet %q", l.Copies, l.Sheet)
		}
		name := j.Part
		switch {
		case l.Whole || len(j.Trims) > 0:
			name = "sheet " + l.Sheet
		case name == "":
			name = fmt.Sprint("left for ", j.Step)
		}
		if want[name] == nil {
			want[name] = map[string]int{}
		}
		want[name][t.fabric[l.Sheet].Fabric] += l.Copies
	}
	if j.Part != "" && want[j.Part] == nil {
		return nil, fmt.Errorf("nothing of %q is taken", j.Part)
	}
	var all []heap
	total := 0
	for name, fabrics := range want {
		for _, h := range t.heaps[name] {
			if h.w != j.W || h.h != j.H {
				return nil, fmt.Errorf("%q is %d x %d, not %d x %d", name, h.w, h.h, j.W, j.H)
			}
			fabrics[h.fabric] -= h.count
			total += h.count
			all = append(all, h)
		}
		delete(t.heaps, name)
		for f, n := range fabrics {
			if n != 0 {
				return nil, fmt.Errorf("of %q %d more of %s are taken than lie there", name, n, f)
			}
		}
	}
	if total != j.Count {
		return nil, fmt.Errorf("%d lie there, not %d", total, j.Count)
	}
	return all, nil
}

// lift takes a region from where it lies on its sheet.
func (t *table) lift(p place, copies int) error {
	if t.at[p] != copies {
		return fmt.Errorf("%d x %d at %d, %d is not to be had from sheet %s", p.w, p.h, p.x, p.y, p.sheet)
	}
	delete(t.at, p)
	return nil
}

// lie counts the passes of so many cuts of a length, and refuses stacks, folds
// and lays of the ruler that break the rules or could be fewer.
func (t *table) lie(l tableLay, j tableJob, cuts int, long int64) (int, error) {
	s := t.r.Session
	sum := 0
	for _, n := range l.Stacks {
		if n < 1 || n*l.Fold > s.Layers {
			return 0, fmt.Errorf("a stack of %d in %d layers, of at most %d", n, l.Fold, s.Layers)
		}
		sum += n
	}
	if sum != j.Count {
		return 0, fmt.Errorf("%d lie in stacks, of %d", sum, j.Count)
	}
	flat := false
	for _, lot := range j.Lots {
		flat = flat || slices.Contains(s.Flat, t.fabric[lot.Sheet].Fabric)
	}
	lays := func(fold int64) int {
		if s.Ruler == 0 {
			return 1
		}
		return int(((long+fold-1)/fold + s.Ruler - 1) / s.Ruler)
	}
	if l.Fold != 1 && (flat || lays(1) == 1) {
		return 0, fmt.Errorf("folded to %d layers for nothing or against the print", l.Fold)
	}
	if !slices.Contains([]int{1, 2, 4, 8}, l.Fold) || l.Lays < lays(int64(l.Fold)) {
		return 0, fmt.Errorf("the ruler is laid %d times over %d in %d layers", l.Lays, long, l.Fold)
	}
	passes := l.Lays * len(l.Stacks)
	for fold := 1; fold <= s.Layers && !flat; fold *= 2 {
		each := s.Layers / fold
		least := lays(int64(fold)) * ((j.Count + each - 1) / each)
		if least < passes || least == passes && fold < l.Fold {
			return 0, fmt.Errorf("%d passes in %d layers where %d in %d do", passes, l.Fold, least, fold)
		}
	}
	return cuts * passes, nil
}
