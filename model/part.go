package model

import (
	"slices"

	"example.org/tuckrow/model/words"
)

// SplitPattern makes two patterns of one that was found to be two designs: the
// copies named are of the new one, with what lies on them (notes, who has it,
// where it stands), and so is what was made of it. The new one says what the old
// one says, or what its own sleeve does.
type SplitPattern struct {
	Copies []Accession `json:"copies"`
	Makes  []MakeID    `json:"makes,omitempty"`  // of the log, what was made of the new one
	Queued bool        `json:"queued,omitempty"` // it is the new one that waits to be sewn
	Says   *Entry      `json:"says,omitempty"`   // what the new one says of itself; nil: what the old one does
}

// Title implements Change.
func (ch *SplitPattern) Title(c *Collection) string {
	if len(ch.Copies) == 0 {
		return "parted nothing"
	}
	return "parted " + words.Count(len(ch.Copies), "copy", "copies") + " from " + c.heading(ch.Copies[0])
}

// OtherDesign is what the sleeve of another design is taken to say until it is
// read: what that of a pattern does, but for the barcode, since each mostly bears
// its own.
func (c *Collection) OtherDesign(of PatternID) Entry {
	en := c.TitleOf(c.Pattern(of))
	en.Barcode = ""
	return en
}

// Differs tells whether the new pattern is told apart from the one it is parted
// from. Its error is an InputError.
func (ch *SplitPattern) Differs(c *Collection, of PatternID) error {
	if was := c.TitleOf(c.Pattern(of)); ch.Says == nil || Alike(&was, ch.Says) {
		return Inputf("this would be %s once more; give the number, name, size range, year or publisher in which the other design differs", c.Called(of))
	}
	return nil
}

func (ch *SplitPattern) apply(e *editor) error {
	of, err := e.splitFrom(ch.Copies)
	if err != nil {
		return err
	}
	for _, id := range ch.Makes {
		if k := e.c.makes.Get(uint32(id)); k == nil || k.Pattern != of {
			return Inputf("what was made as %d was not made of %s; tuckrow sewn lists what was", id, e.c.Called(of))
		}
	}
	p := *e.c.Pattern(of)
	if p.ID, err = next(e.c.counters.Pattern, "pattern", &e.c.patterns); err != nil {
		return err
	}
	p.Merged, p.Links = nil, nil
	p.Tags, p.Also, p.Copied = slices.Clone(p.Tags), slices.Clone(p.Also), nil // the photocopy is of the other
	if ch.Says != nil {
		en := *ch.Says
		if err := en.Normalise(); err != nil {
			return err
		}
		e.titled(&p, &en)
	}
	e.put(&p)
	e.belong(ch.Copies, ch.Makes, of, p.ID)
	if !ch.Queued {
		return nil
	}
	items := slices.Clone(e.c.Queue())
	at := slices.IndexFunc(items, func(q Queued) bool { return q.Pattern == of })
	if at < 0 {
		return Inputf("%s does not wait to be sewn; tuckrow next lists what does", e.c.Called(of))
	}
	items[at].Pattern = p.ID
	e.setQueue(items)
	return nil
}

// splitFrom finds the pattern that copies are to be parted from: one that is
// left with a copy.
func (e *editor) splitFrom(copies []Accession) (of PatternID, err error) {
	if len(copies) == 0 {
		return 0, Inputf("say which copies are of the other design, by their accession numbers")
	}
	for _, a := range copies {
		cp, err := e.copyOrErr(a)
		if err != nil {
			return 0, err
		}
		if of != 0 && cp.Pattern != of {
			return 0, Inputf("copy %d is of another pattern than copy %d; part one pattern at a time", a, copies[0])
		}
		of = cp.Pattern
	}
	for _, cp := range e.c.copies.All() {
		if cp.Pattern == of && !slices.Contains(copies, cp.Accession) {
			return of, nil
		}
	}
	return 0, Inputf("these are all copies of %s; leave at least one with it", e.c.Called(of))
}
