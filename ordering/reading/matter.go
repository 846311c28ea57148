package reading

import (
	"fmt"
	"slices"

	"example.org/tuckrow/model"
)

// Matter is one thing that a stocktake leaves to be settled.
type Matter struct {
	What    string // missing, elsewhere, misplaced, twice, unlisted or ambiguous
	Copy    model.Accession
	Read    string    // as it was read, where no copy is known
	Box     model.Box // where it was read; of what is missing, where it is recorded
	From    model.Box // of what is elsewhere: where it is recorded; the zero box for none
	Item    int       // which reading of the box
	Belongs string    // of what stands wrong, in words
	Fits    bool      // by filing order it stands right where it was found
}

// The kinds of matter.
const (
	Lost      = "missing"   // recorded in a box that was read, found in none
	Elsewhere = "elsewhere" // found in another box than recorded
	Wrong     = "misplaced" // found at another place of its box
	ReadTwice = "twice"     // read in two boxes
	NoList    = "unlisted"
	Unclear   = "ambiguous"
)

// Matters lists what is to be settled, kind by kind.
func (s *Stocktake) Matters(c *model.Collection) []Matter {
	var out []Matter
	for _, a := range s.Missing {
		at, _ := c.Standing(a)
		b, _ := c.Shelf().Box(at.Box)
		out = append(out, Matter{What: Lost, Copy: a, Box: b})
	}
	var wrong, twice, rest []Matter
	for _, rep := range s.Boxes {
		for _, f := range rep.Findings {
			m := Matter{Copy: f.Copy, Read: f.Read, Box: rep.Box, Item: f.Item, Belongs: f.Belongs, Fits: f.Fits}
			moved := slices.IndexFunc(s.Moved, func(x Moved) bool { return x.Copy == f.Copy && x.To.ID == rep.Box.ID })
			switch {
			case f.Kind == Unlisted:
				m.What = NoList
				rest = append(rest, m)
			case f.Kind == Ambiguous:
				m.What = Unclear
				rest = append(rest, m)
			case f.Copy == 0 || f.Kind == Gap || f.Kind == Again:
			case slices.Contains(s.Twice, f.Copy):
				m.What = ReadTwice
				twice = append(twice, m)
			case moved >= 0:
				m.What, m.From = Elsewhere, s.Moved[moved].From
				out = append(out, m)
			case f.Kind == Misplaced:
				m.What = Wrong
				wrong = append(wrong, m)
			}
		}
	}
	return slices.Concat(out, wrong, twice, rest)
}

// Count is how many matters of a kind there are.
func Count(all []Matter, what string) int {
	n := 0
	for _, m := range all {
		if m.What == what {
			n++
		}
	}
	return n
}

// About says what there is to know of a matter.
func (m Matter) About(c *model.Collection) string {
	switch m.What {
	case Lost:
		return fmt.Sprintf("#%d; recorded in box %s, found in none", m.Copy, m.Box.Name)
	case Elsewhere:
		if m.From.ID == 0 {
			return "recorded in no box, found in box " + m.Box.Name
		}
		return fmt.Sprintf("recorded in box %s, found in box %s", m.From.Name, m.Box.Name)
	case Wrong:
		if m.Fits {
			return fmt.Sprintf("box %s, item %d; in filing order it stands right", m.Box.Name, m.Item)
		}
		return fmt.Sprintf("box %s, item %d; belongs %s", m.Box.Name, m.Item, m.Belongs)
	case ReadTwice:
		return fmt.Sprintf("#%d was read in two boxes: one of them is another; box %s, item %d", m.Copy, m.Box.Name, m.Item)
	case Unclear:
		return fmt.Sprintf("box %s, item %d; read it by its accession number", m.Box.Name, m.Item)
	}
	return fmt.Sprintf("box %s, item %d", m.Box.Name, m.Item)
}

// Name is the publisher of what the matter is about, and what it is called; of what
// is on no list, how it was read.
func (m Matter) Name(c *model.Collection) (publisher, called string) {
	p := c.PatternOf(m.Copy)
	if p == nil || m.What == NoList || m.What == Unclear {
		return "", m.Read
	}
	return c.Publisher(p.Publisher).Name, p.Heading()
}

// Place is the change that records a copy where it was found: in the box that it
// was read in, behind the nearest that was read before it and is recorded there.
func (s *Stocktake) Place(c *model.Collection, m Matter) *model.Stand {
	row := slices.DeleteFunc(slices.Clone(c.Row(m.Box.ID)), func(a model.Accession) bool { return a == m.Copy })
	at := 0
	for _, rep := range s.Boxes {
		for i := m.Item - 2; rep.Box.ID == m.Box.ID && i >= 0; i-- {
			if j := slices.Index(row, rep.Findings[i].Copy); j >= 0 {
				at = j + 1
				break
			}
		}
	}
	ch := &model.Stand{Rows: []model.NamedRow{{Box: m.Box.Name, Copies: slices.Insert(row, at, m.Copy)}}, Read: true}
	ch.Back = backIfOut(c, m.Copy)
	return ch
}

// Pull is the change that records that a copy was taken out of where it stands, to
// be put where it belongs: it waits on the to-file pile. Nil where it is recorded
// in no box.
func (s *Stocktake) Pull(c *model.Collection, m Matter) *model.Stand {
	spot, stands := c.Standing(m.Copy)
	b, there := c.Shelf().Box(spot.Box)
	if !stands || !there {
		return nil
	}
	row := slices.DeleteFunc(slices.Clone(c.Row(b.ID)), func(a model.Accession) bool { return a == m.Copy })
	return &model.Stand{Rows: []model.NamedRow{{Box: b.Name, Copies: row}}, Back: backIfOut(c, m.Copy)}
}

func backIfOut(c *model.Collection, a model.Accession) []model.Accession {
	if cp := c.Copy(a); cp != nil && cp.Out != nil {
		return []model.Accession{a}
	}
	return nil
}
