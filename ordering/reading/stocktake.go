package reading

import (
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// Walked is what was read in one box, front to back.
type Walked struct {
	Box   model.Box
	Lines []string
}

// Stocktake is what reading box after box amounts to for the cupboard as a whole.
type Stocktake struct {
	Boxes   []*Report
	Missing []model.Accession // recorded in a box that was read, and found in none
	Moved   []Moved           // recorded in one box and found in another
	Twice   []model.Accession // read in two boxes: one of them was misread
	Unread  []model.Box       // with something in it, and not read
}

// Moved is a copy that was found in another box than recorded. What was missing,
// or on the pile, is recorded in none: From is the zero box then.
type Moved struct {
	Copy     model.Accession
	From, To model.Box
}

// TakeStock reads boxes, each once. What one box lacks may have turned up in
// another: only what is found in none is missing.
func TakeStock(l *ordering.Layout, walks []Walked) *Stocktake {
	c := l.Collection()
	s, found, read := &Stocktake{}, map[model.Accession]int{}, map[model.BoxID]bool{}
	for _, w := range walks {
		r := New(l, w.Box)
		for _, line := range w.Lines {
			r.Take(line)
		}
		rep := r.Report()
		s.Boxes, read[w.Box.ID] = append(s.Boxes, rep), true
		for _, f := range rep.Findings {
			if f.Copy == 0 || f.Kind == Gap || f.Kind == Again {
				continue
			}
			if found[f.Copy]++; found[f.Copy] == 2 {
				s.Twice = append(s.Twice, f.Copy)
			}
			if at, _ := c.Standing(f.Copy); at.Box != w.Box.ID {
				from, _ := c.Shelf().Box(at.Box)
				s.Moved = append(s.Moved, Moved{f.Copy, from, w.Box})
			}
		}
	}
	for _, rep := range s.Boxes {
		for _, a := range rep.Missing {
			if found[a] == 0 {
				s.Missing = append(s.Missing, a)
			}
		}
	}
	for _, b := range c.Shelf().Boxes {
		if !read[b.ID] && len(c.Row(b.ID)) > 0 {
			s.Unread = append(s.Unread, b)
		}
	}
	return s
}

// Unlisted lists what was read and is on no list, box by box.
func (s *Stocktake) Unlisted() []Finding {
	var out []Finding
	for _, rep := range s.Boxes {
		out = append(out, rep.Of(Unlisted)...)
	}
	return out
}

// Record is the one change that records all boxes as they were found; nil when
// they stand as recorded. Its error says what has to be read again.
func (s *Stocktake) Record() (*model.Stand, error) {
	if len(s.Twice) > 0 {
		return nil, model.Inputf("%s was read in two boxes; look which it is, and read the other by its accession number", numbered(s.Twice[:1]))
	}
	ch, asRecorded := &model.Stand{Read: true, Missing: s.Missing}, true
	for _, rep := range s.Boxes {
		one, err := rep.Record()
		if err != nil {
			return nil, err
		}
		asRecorded = asRecorded && one == nil && len(s.Moved) == 0
		ch.Rows = append(ch.Rows, model.NamedRow{Box: rep.Box.Name, Copies: s.rowOf(rep)})
		ch.Back = append(ch.Back, rep.FoundOut()...)
	}
	if asRecorded {
		return nil, nil
	}
	return ch, nil
}

// rowOf is the row of a box without what is out from it and was found in another.
func (s *Stocktake) rowOf(rep *Report) []model.Accession {
	return slices.DeleteFunc(slices.Clone(rep.row), func(a model.Accession) bool {
		return slices.ContainsFunc(s.Moved, func(m Moved) bool { return m.Copy == a && m.To.ID != rep.Box.ID })
	})
}

// Walks parts the lines of a file by the boxes that they name: a line "box 2:"
// before what stands in it.
func Walks(shelf *model.Shelf, lines []string) ([]Walked, error) {
	var out []Walked
	for i, line := range lines {
		name, isBox := strings.CutSuffix(strings.TrimSpace(line), ":")
		if rest, said := cutFold(name, "box "); isBox && said {
			b, err := shelf.BoxNamed(rest)
			if err != nil {
				return nil, err
			}
			if slices.ContainsFunc(out, func(w Walked) bool { return w.Box.ID == b.ID }) {
				return nil, model.Inputf("line %d: box %q comes twice; write all that stands in it behind one line", i+1, b.Name)
			}
			out = append(out, Walked{Box: b})
			continue
		}
		if len(out) == 0 {
			if strings.TrimSpace(line) == "" {
				continue
			}
			return nil, model.Inputf("line %d, %q, stands before any box; begin each box with a line like \"box 1:\"", i+1, line)
		}
		w := &out[len(out)-1]
		w.Lines = append(w.Lines, strings.TrimSpace(line))
	}
	for i := range out {
		w := &out[i] // empty lines before the next box are no gaps
		for n := len(w.Lines); n > 0 && w.Lines[n-1] == ""; n-- {
			w.Lines = w.Lines[:n-1]
		}
	}
	if len(out) == 0 {
		return nil, model.Inputf("no box was read; begin each with a line like \"box 1:\", then what stands in it, front to back")
	}
	return out, nil
}

func cutFold(s, prefix string) (string, bool) {
	if len(s) < len(prefix) || !strings.EqualFold(s[:len(prefix)], prefix) {
		return s, false
	}
	return s[len(prefix):], true
}
