package reading

import (
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
)

// Reader takes readings of one box, front to back. It is for one goroutine.
type Reader struct {
	l     *ordering.Layout
	box   model.Box
	row   []model.Accession       // as recorded, out ones included
	at    map[model.Accession]int // index in row
	rank  []int                   // in filing order, by index in row; -1 for what belongs on a hook
	here  *index
	reads []read

	// The ways to match readings to places in the recorded row, in order: a
	// pile for each length of run, with the run that ends furthest in front on
	// top. A reading can be matched to several places, so this is not the
	// longest run of the engine, where each item has one rank.
	nodes []node
	piles []int
}

// read is one reading and what it could be.
type read struct {
	text      string
	gap       bool
	here      []match // recorded in this box
	elsewhere []match // not recorded in it, once they were looked for
	looked    bool
}

// node matches a reading to a place, behind another match or none (-1).
type node struct{ read, at, before int }

// New begins to read a box.
func New(l *ordering.Layout, box model.Box) *Reader {
	c := l.Collection()
	r := &Reader{l: l, box: box, row: c.Row(box.ID), at: map[model.Accession]int{}, here: newIndex(c, len(c.Row(box.ID)))}
	for i, a := range r.row {
		r.at[a], r.rank = i, append(r.rank, l.Rank(a))
		r.here.add(a)
	}
	r.here.has = func(a model.Accession) bool { _, ok := r.at[a]; return ok }
	return r
}

// Read takes the next reading, front to back: what is on an envelope, or "-" or
// nothing for a gap or an out card. It says what it looks like so far.
func (r *Reader) Read(text string) Finding {
	was, long := r.run(), len(r.piles)
	r.Take(text)
	j := r.judge()
	f := j.findings[len(j.findings)-1]
	f.Belongs = j.belongs(&f)
	if f.Kind == InPlace && len(r.piles) == long {
		f.Crosses = j.crosses(f.Copy, append(was, -1))
	}
	return f
}

// Unread takes the last reading back; false when there is none.
func (r *Reader) Unread() bool {
	if len(r.reads) == 0 {
		return false
	}
	before := r.reads[:len(r.reads)-1]
	r.reads, r.nodes, r.piles = nil, nil, nil
	for _, x := range before {
		r.match(x)
	}
	return true
}

// Count is how many readings were taken, gaps included.
func (r *Reader) Count() int { return len(r.reads) }

// Take is Read without asking what it looks like.
func (r *Reader) Take(text string) {
	x := read{text: words.Clean(text)}
	x.gap = x.text == "" || x.text == "-"
	if !x.gap {
		x.here = best(r.here.find(x.text))
	}
	r.match(x)
}

// best keeps, of what a text could be, what it is by its printed number if
// there is anything, with or without prefix; else by accession number; else by
// name.
func best(all []match) []match {
	for _, upTo := range []quality{byDigits, byAccession, byName} {
		if some := slices.DeleteFunc(slices.Clone(all), func(m match) bool { return m.how > upTo }); len(some) > 0 {
			return some
		}
	}
	return nil
}

// elsewhere lists what a reading could be of what is recorded elsewhere.
func (r *Reader) elsewhere(i int) []match {
	if !r.reads[i].looked {
		r.look(i)
	}
	return r.reads[i].elsewhere
}

// look goes once through the cupboard for a reading, and for the others that are
// recorded nowhere in this box.
func (r *Reader) look(i int) {
	c, g := r.l.Collection(), newGlance()
	var asked []*read
	for j := range r.reads {
		if x := &r.reads[j]; j == i || !x.looked && !x.gap && len(x.here) == 0 {
			asked = append(asked, x)
			g.want(x.text)
		}
	}
	there := newIndex(c, len(asked))
	there.has = func(a model.Accession) bool {
		_, here := r.at[a]
		return !here && c.Copy(a) != nil
	}
	likely := map[model.PatternID]bool{}
	for _, p := range c.Patterns().All() {
		if g.passes(p) {
			likely[p.ID] = true
		}
	}
	for _, cp := range c.Copies().All() {
		if likely[cp.Pattern] && there.has(cp.Accession) {
			there.add(cp.Accession)
		}
	}
	for _, x := range asked {
		x.elsewhere, x.looked = there.find(x.text), true
	}
}

// match adds a reading to the runs. Its places are gone through from the back,
// so that none of them comes to stand behind another of the same reading.
func (r *Reader) match(x read) {
	i := len(r.reads)
	r.reads = append(r.reads, x)
	places := make([]int, 0, len(x.here))
	for _, m := range x.here {
		places = append(places, r.at[m.copy])
	}
	slices.Sort(places)
	for _, at := range slices.Backward(places) {
		lo, same := slices.BinarySearchFunc(r.piles, at, func(n, at int) int { return r.nodes[n].at - at })
		if same {
			continue // what was read first keeps the place
		}
		before := -1
		if lo > 0 {
			before = r.piles[lo-1]
		}
		r.nodes = append(r.nodes, node{i, at, before})
		if lo == len(r.piles) {
			r.piles = append(r.piles, 0)
		}
		r.piles[lo] = len(r.nodes) - 1
	}
}

// run gives for each reading the place in the row that it is matched to in a
// longest run, -1 for none.
func (r *Reader) run() []int {
	kept := slices.Repeat([]int{-1}, len(r.reads))
	if len(r.piles) > 0 {
		for n := r.piles[len(r.piles)-1]; n >= 0; n = r.nodes[n].before {
			kept[r.nodes[n].read] = r.nodes[n].at
		}
	}
	r.improve(kept)
	return kept
}

// improve moves matches, between their neighbours in the run, to the copy that
// was read the better way, that is not out, that stands further in front. The
// run stays as long.
func (r *Reader) improve(kept []int) {
	next, behind := make([]int, len(kept)), len(r.row)
	for i, at := range slices.Backward(kept) {
		next[i] = behind
		if at >= 0 {
			behind = at
		}
	}
	last := -1
	for i, at := range kept {
		if at < 0 {
			continue
		}
		for _, m := range r.reads[i].here {
			if p := r.at[m.copy]; p > last && p < next[i] && r.better(i, p, kept[i]) {
				kept[i] = p
			}
		}
		last = kept[i]
	}
}

// better compares two places that a reading could be matched to.
func (r *Reader) better(reading, a, b int) bool {
	how := func(at int) quality {
		i := slices.IndexFunc(r.reads[reading].here, func(m match) bool { return r.at[m.copy] == at })
		return r.reads[reading].here[i].how
	}
	switch {
	case how(a) != how(b):
		return how(a) < how(b)
	case r.isOut(a) != r.isOut(b):
		return r.isOut(b)
	}
	return a < b
}

func (r *Reader) isOut(at int) bool { return r.l.Collection().Copy(r.row[at]).Out != nil }
