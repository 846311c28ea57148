package sample

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// press is a publisher of a cupboard of any size, with how it numbers.
type press struct {
	name, filesAs string
	scheme        model.Scheme
	number        func(m *maker) string
}

// presses are the publishers of cupboards of any size, the commonest first.
// They number in turn in the six ways of the trade.
func presses() []press {
	var out []press
	for _, h := range houses {
		if h.name != book && h.name != drafts {
			out = append(out, press{name: h.name, filesAs: h.filesAs})
		}
	}
	for _, name := range moreHouses {
		out = append(out, press{name: name})
	}
	for i := range out {
		p := &out[i]
		switch i % 6 {
		case 0, 3:
			p.number = func(m *maker) string { return fmt.Sprint(m.between(1000, 9999)) }
		case 1:
			p.number = func(m *maker) string {
				return fmt.Sprintf("%d %s", m.between(3000, 8999), m.pick([]string{smallSizes, largeSizes}))
			}
		case 2:
			p.number = func(m *maker) string { return m.pick(list("K|K|Q|")) + fmt.Sprint(m.between(100, 4999)) }
		case 4:
			p.scheme = model.PrefixFirst
			p.number = func(m *maker) string { return m.pick(list("D|E|M|AL")) + fmt.Sprint(m.between(100, 2999)) }
		case 5:
			switch {
			case i%4 == 1:
				p.scheme = model.Unnumbered
				p.number = func(*maker) string { return "" }
			default:
				p.scheme = model.Issue
				p.number = func(m *maker) string {
					return fmt.Sprintf("%02d/%d %d", m.between(1, 12), m.between(1974, 2024), m.between(101, 140))
				}
			}
		}
	}
	return out
}

// ownSections is how many publishers have a section of their own; the others
// share one.
const ownSections = 14

// bulkShelf is the furniture that goes with Copies, without boxes.
func bulkShelf() model.ShelfSpec {
	spec := model.ShelfSpec{Settings: model.DefaultSettings()}
	all := presses()
	for _, p := range all[:ownSections] {
		spec.Sections = append(spec.Sections, model.SectionSpec{Title: p.name, Publishers: []string{p.name}})
	}
	spec.Sections = append(spec.Sections, model.SectionSpec{Title: "Small houses", Publishers: []string{"*"}})
	for _, p := range all {
		if p.filesAs != "" || p.scheme != "" {
			spec.Publishers = append(spec.Publishers, model.PublisherSpec{Name: p.name, FilesAs: p.filesAs, Numbers: p.scheme})
		}
	}
	for _, k := range kinds {
		spec.Binders = append(spec.Binders, model.BinderSpec{Category: k.category, Pockets: 75})
	}
	return spec
}

// Copies makes n entries, each of a pattern of its own, as a collection of that
// size would hold: forty publishers of which the first few have most, numbers
// of all schemes, names of two to six words that come again as names do.
// Numbers come again too, as the series of a publisher do.
func Copies(n int, seed uint64) []model.Entry {
	m, all := newMaker(seed), presses()
	// The exponent is a guess that gives the first publisher a fifth of all.
	zipf := rand.NewZipf(m.r, 1.15, 2.5, uint64(len(all)-1))
	out := make([]model.Entry, n)
	for i := range out {
		m.anything(&out[i], &all[zipf.Uint64()])
	}
	return out
}

// anything fills one entry for a publisher.
func (m *maker) anything(en *model.Entry, p *press) {
	k := m.kind()
	en.Publisher, en.Number, en.Name, en.Category = p.name, p.number(m), m.name(k), k.category
	en.Bulky, en.Year, en.DatedBy = m.chance(k.bulky), m.between(1930, 2024), m.pick(datedBy)
	switch {
	case m.chance(15):
		en.Year, en.DatedBy = 0, ""
	case en.Year < 1976:
		en.SizeRange = m.pick(oldSizes)
	default:
		en.SizeRange = m.pick(modernSizes)
	}
	en.Cut = model.Cut(m.pick(list("uncut|uncut|uncut|cut|cut|partly|")))
	en.Sleeve = model.Sleeve(m.pick(list("binder|binder|binder|binder|photocopy|with tissue|missing")))
	if m.chance(10) {
		en.Thickness = model.MM(4) + model.MM(0.5)*model.Length(m.between(0, 16))
	}
	if m.chance(40) {
		en.Complete = "yes"
	}
	if m.chance(8) {
		en.Notes = m.pick(remarks)
	}
	en.Batch = fmt.Sprintf("drawer %d", m.between(1, 12))
}

// bulkSeed is any number.
const bulkSeed = 20250301

// Cupboard is a collection of n copies, every twenty-fifth of them a further
// copy of a pattern already there. All stand in boxes of 380 mm in filing
// order, but for one in a hundred, which waits, some steps done and some not.
func Cupboard(n int) *model.Collection { return CupboardOf(n, model.MM(380)) }

// CupboardOf is Cupboard with boxes, or drawers, of another length.
func CupboardOf(n int, length model.Length) *model.Collection {
	entries := Copies(n, bulkSeed)
	waits := func(i int) bool { return i%100 == 50 }
	for i := range entries {
		entries[i].Pattern = model.PatternID(i + 1)
		if i%25 == 24 {
			was := &entries[i-7]
			entries[i].Pattern, entries[i].Publisher, entries[i].Number, entries[i].Name = was.Pattern, was.Publisher, was.Number, was.Name
		}
		if waits(i) {
			entries[i].Enveloped, entries[i].Grouped = i%3 > 0, i%3 > 1
			if i%4 == 0 {
				entries[i].Sleeve = model.SleeveWaiting
			}
		}
	}
	t := &teller{c: model.NewCollection()}
	shelf := bulkShelf()
	shelf.Boxes = []model.BoxSpec{{Name: "1", Length: length}} // new ones are as long
	t.tell("2025-03-01", &model.SetShelf{Spec: shelf})
	t.tell("2025-03-08", &model.Add{Entries: entries}) // the accession number is one more than the index
	l := ordering.Arrange(t.c)
	moves := l.RefileTo(l.Split(ordering.Fewest))
	stand := moves.Done()
	for i := range stand.Rows {
		r := &stand.Rows[i]
		r.Copies = slices.DeleteFunc(r.Copies, func(a model.Accession) bool { return waits(int(a) - 1) })
	}
	t.tell("2025-06-14", stand)
	return t.c
}
