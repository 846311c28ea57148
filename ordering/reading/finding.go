package reading

import (
	"math"
	"slices"

	"example.org/tuckrow/model"
)

// Kind says what a reading turned out to be.
type Kind string

// The kinds of finding.
const (
	InPlace   Kind = "in place"
	Misplaced Kind = "misplaced" // recorded elsewhere, or at another place of this box
	Unlisted  Kind = "unlisted"  // nothing that is listed, and not found before
	Ambiguous Kind = "ambiguous" // several copies bear that number
	Again     Kind = "again"     // the same accession number was read before
	Gap       Kind = "gap"       // no envelope: an out card, or nothing
)

// Finding is what one reading turned out to be.
type Finding struct {
	Item    int    // 1 is the first that was read
	Read    string // as it was read
	Kind    Kind
	Copy    model.Accession   // 0 when it is not known; of a gap: what is out from there
	Could   []model.Accession // of an ambiguous one
	Fits    bool              // misplaced by the record, but right by filing order
	WasOut  bool              // recorded as out
	Skipped []model.Accession // recorded between the one before and this, not out, not found
	Belongs string            // of a misplaced one, in words, where it belongs
	Crosses string            // of one in place by which another, read just as well, no longer is: where it belongs if that one stands right
}

// judgement is what the readings so far amount to.
type judgement struct {
	r        *Reader
	kept     []int // by reading: its place in the row, -1 when it is not in place
	findings []Finding
	used     map[model.Accession]bool // found
	maybe    map[model.Accession]bool // what ambiguous ones could be
	gaps     map[int]bool             // places whose copy is out, and a gap was read for
	lo, hi   []int                    // by reading: between which ranks it should lie to stand right
}

// judge says of every reading what it is.
func (r *Reader) judge() *judgement {
	j := &judgement{r: r, kept: r.run(), used: map[model.Accession]bool{}, maybe: map[model.Accession]bool{}, gaps: map[int]bool{}}
	j.findings = make([]Finding, len(r.reads))
	for i, at := range j.kept {
		f := &j.findings[i]
		f.Item, f.Read = i+1, r.reads[i].text
		if at >= 0 {
			f.Kind, f.Copy = InPlace, r.row[at]
			j.used[f.Copy] = true
		}
	}
	j.bound()
	floor := math.MinInt // rank of the last that fits, of those behind the last in place
	for i := range j.findings {
		f := &j.findings[i]
		switch {
		case j.kept[i] >= 0:
			floor = math.MinInt
		case !r.reads[i].gap:
			j.resolve(i, f, max(floor, j.lo[i]))
			if f.Fits {
				floor = r.l.Due(f.Copy)
			}
		}
		if f.Copy != 0 {
			f.WasOut = r.l.Collection().Copy(f.Copy).Out != nil
		}
	}
	j.between()
	return j
}

// bound says for each reading between which ranks an envelope must lie to
// stand right there: those of the nearest that are in place, and past the ends
// of what was read, those that are recorded next.
func (j *judgement) bound() {
	n := len(j.kept)
	j.lo, j.hi = make([]int, n), make([]int, n)
	lo, at := j.r.beyond(-1), -1
	for i, k := range j.kept {
		if k >= 0 {
			at = k
			if rank := j.r.rank[k]; rank >= 0 {
				lo = rank
			}
		}
		j.lo[i] = lo
	}
	hi := j.r.beyond(+1)
	for k := at + 1; k < len(j.r.row); k++ {
		if rank := j.r.rank[k]; rank >= 0 {
			hi = rank
			break
		}
	}
	for i, k := range slices.Backward(j.kept) {
		j.hi[i] = hi
		if k >= 0 {
			if rank := j.r.rank[k]; rank >= 0 {
				hi = rank
			}
		}
	}
}

// beyond is the rank of what stands last before the box, or first behind it.
func (r *Reader) beyond(step int) int {
	c := r.l.Collection()
	boxes := c.Shelf().Boxes
	for b := slices.IndexFunc(boxes, func(b model.Box) bool { return b.ID == r.box.ID }) + step; b >= 0 && b < len(boxes); b += step {
		row := slices.Clone(c.Row(boxes[b].ID))
		if step < 0 {
			slices.Reverse(row)
		}
		for _, a := range row {
			if rank := r.l.Rank(a); rank >= 0 {
				return rank
			}
		}
	}
	if step < 0 {
		return -1
	}
	return math.MaxInt
}

// resolve finds which copy a reading is that is not in place.
func (j *judgement) resolve(i int, f *Finding, lo int) {
	r := j.r
	fits := func(a model.Accession) bool {
		if r.l.Rank(a) < 0 { // it is missing, or belongs on a hook
			due := r.l.Due(a)
			return due > lo && due <= j.hi[i]
		}
		rank := r.l.Rank(a)
		return rank > lo && rank < j.hi[i]
	}
	var could []model.Accession
	for _, m := range r.reads[i].here {
		if !j.used[m.copy] {
			could = append(could, m.copy)
		}
	}
	_, sure, _ := accession(f.Read)
	twins := len(could) > 0
	switch {
	case twins:
	case sure && len(r.reads[i].here) > 0:
		f.Kind = Again
		return
	default:
		could = j.unused(r.elsewhere(i))
	}
	switch right := slices.DeleteFunc(slices.Clone(could), func(a model.Accession) bool { return !fits(a) }); {
	case len(could) == 0 && sure && len(r.elsewhere(i)) > 0:
		f.Kind = Again
	case len(could) == 0:
		f.Kind = Unlisted
	case len(could) == 1, twins && j.ofOnePattern(could):
		j.place(f, could[0], fits(could[0]))
	case len(right) == 1:
		j.place(f, right[0], true)
	default:
		f.Kind, f.Could = Ambiguous, could
		for _, a := range could {
			j.maybe[a] = true
		}
	}
}

// unused keeps what was read the best way and not found yet.
func (j *judgement) unused(all []match) []model.Accession {
	left := slices.DeleteFunc(slices.Clone(all), func(m match) bool { return j.used[m.copy] })
	var out []model.Accession
	for _, m := range left {
		if m.how == left[0].how { // find lists the best way first
			out = append(out, m.copy)
		}
	}
	return out
}

// ofOnePattern: which of several copies of one pattern it is makes no
// difference to where it belongs.
func (j *judgement) ofOnePattern(could []model.Accession) bool {
	c := j.r.l.Collection()
	return !slices.ContainsFunc(could, func(a model.Accession) bool { return c.Copy(a).Pattern != c.Copy(could[0]).Pattern })
}

func (j *judgement) place(f *Finding, a model.Accession, fits bool) {
	f.Kind, f.Copy, f.Fits = Misplaced, a, fits
	j.used[a] = true
}

// crosses says of the last reading, which the run takes in place of another, where
// it belongs by the run without it, kept. By filing order it can stand right all the
// same.
func (j *judgement) crosses(a model.Accession, kept []int) string {
	rank, at := j.r.rank, j.r.at[a]
	if rank[at] >= 0 && !slices.ContainsFunc(kept, func(k int) bool { return k > at && rank[k] > rank[at] }) {
		return ""
	}
	j.kept = kept
	return "in this box, " + j.beside(at)
}

// between goes through what is recorded between one in place and the next: what
// is out there explains a gap; what is not, and was not found, was skipped.
func (j *judgement) between() {
	r := j.r
	from, gaps := 0, []int(nil)
	pass := func(to int) (skipped []model.Accession) {
		for at := from; at < to; at++ {
			switch {
			case j.used[r.row[at]]:
			case !r.isOut(at):
				skipped = append(skipped, r.row[at])
			case len(gaps) > 0:
				j.findings[gaps[0]].Copy, j.findings[gaps[0]].WasOut = r.row[at], true
				j.gaps[at] = true
				gaps = gaps[1:]
			}
		}
		from, gaps = to+1, nil
		return skipped
	}
	for i, at := range j.kept {
		switch {
		case r.reads[i].gap:
			j.findings[i].Kind = Gap
			gaps = append(gaps, i)
		case at >= 0:
			j.findings[i].Skipped = pass(at)
		}
	}
	pass(len(r.row))
}
