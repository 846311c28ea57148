package collection

import (
	"fmt"
	"strconv"

	"example.org/tuckrow/model/identify"
	"example.org/tuckrow/ordering/supplies"
)

// row is one thing on a page.
type row struct {
	heading string               // what begins with it
	cols    []string             // by the columns of the page; the first is its name
	apart   bool                 // a name and a remark, whatever the columns are
	about   []string             // what there is to say of it
	sheet   func(*Screen) *sheet // to change it; nil: it is not changed here
	unknown *unknown             // of the unidentified bin
	find    string               // what leads to it in Find
	batch   string               // its name
}

// column is a column of a page.
type column struct {
	title string
	wide  int
	right bool // figures
	spare bool // left out where it is narrow
}

// columns are those behind the name.
var columns = [pages][]column{
	stock:    {{"have", 6, true, false}, {"need", 6, true, false}, {"short", 6, true, false}, {"a year takes", 14, true, true}, {"the rest lasts", 16, true, true}},
	value:    {{"copies", 8, true, false}, {"each", 12, true, true}, {"together", 13, true, false}},
	batches:  {{"begun", 11, true, true}, {"listed", 8, true, false}, {"of about", 10, true, true}, {"done", 7, true, false}, {"not known", 11, true, true}},
	codes:    {{"begins", 12, true, true}, {"learned from", 14, true, true}, {"sure", 7, true, false}, {"number sure", 13, true, false}},
	carrying: {{"pack", 6, true, false}, {"unpack", 8, true, false}, {"copies", 8, true, true}, {"length", 9, true, true}, {"weighs about", 14, true, false}},
	hanging:  {{"is it there?", 0, true, false}},
	yearsOut: {{"today", 18, true, false}, {"then", 0, true, false}},
}

// rowsOf lists what was worked out, page by page.
func (s *Screen) rowsOf(x *seen) (all [pages][]row) {
	all[carrying], all[hanging] = s.carryRows(x), hookRows(x)
	all[stock], all[value], all[batches], all[codes] = stockRows(x), worthRows(x), batchRows(x), codeRows(x)
	return all
}

// some writes a number, and nothing for none.
func some(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func stockRows(x *seen) (out []row) {
	for _, l := range x.supplies {
		have, counted, lasts, perYear := strconv.Itoa(l.Have), "counted on "+string(l.On), l.Lasts(), l.Yearly()
		if l.On == "" {
			have, counted = "?", "never counted: enter says how many lie ready"
		}
		about := "nothing is used of it at the pace of growth"
		switch l.Months {
		case supplies.NotKnown:
			perYear, about = "?", "how long it lasts is not known yet: nor is growth, see the last line"
		case supplies.NoEnd:
		default:
			if about = fmt.Sprintf("a year takes about %s at the pace of growth, an estimate", perYear); l.Short == 0 && l.On != "" {
				about = fmt.Sprintf("a year takes about %s at the pace of growth; what is over lasts %s: an estimate", perYear, lasts)
			}
		}
		need := fmt.Sprintf("%d needed to file all there is, %d short", l.Need, l.Short)
		out = append(out, row{cols: []string{string(l.Item), have, strconv.Itoa(l.Need), some(l.Short), perYear, lasts},
			about: []string{string(l.Item) + ": " + counted, need, about}, sheet: func(s *Screen) *sheet { return s.stockSheet(l.Item) }})
	}
	grows := "not known yet"
	if x.grows.Known {
		grows = fmt.Sprintf("%.0f copies a year", x.grows.PerYear)
	}
	return append(out, row{cols: []string{"growth", grows}, apart: true, about: []string{"growth: " + x.grows.Text(), "enter says how many copies a year brings, if you know better"},
		sheet: func(s *Screen) *sheet { return s.paceSheet() }})
}

// notAppraised is said of every value.
const notAppraised = "The figures are yours, not an appraisal: what is old or rare is for somebody who knows."

func worthRows(x *seen) (out []row) {
	for _, g := range x.worth.Groups {
		r := row{cols: []string{g.Name(), strconv.Itoa(len(g.Copies)), g.Each.String(), g.Sum.String()}, about: []string{g.Name(), notAppraised}}
		if g.Own {
			r.cols[2] = ""
		} else {
			r.sheet = func(s *Screen) *sheet { return s.worthSheet(g.Of, g.Name()) }
		}
		out = append(out, r)
	}
	if n := len(x.worth.Unvalued); n > 0 {
		out = append(out, row{cols: []string{"without a value", strconv.Itoa(n), "", ""}, about: []string{"enter says what all others are worth", notAppraised},
			sheet: func(s *Screen) *sheet { return s.worthSheet("", "all others") }})
	}
	return append(out, row{cols: []string{"in all", strconv.Itoa(x.copies), "", x.worth.Sum.String()}, about: []string{notAppraised}})
}

func batchRows(x *seen) (out []row) {
	for _, b := range x.batches {
		about := []string{b.Name}
		for _, said := range [][2]string{{"from ", b.Source}, {"", b.Notes}} {
			if said[1] != "" {
				about = append(about, said[0]+said[1])
			}
		}
		if len(about) == 1 {
			about = append(about, "nobody has noted where it came from: enter notes it")
		}
		if b.Notes != "" || b.Unidentified > 0 { // what was kept badly, or is old
			about = append(about, identify.Caution)
		}
		out = append(out, row{cols: []string{b.Name, string(b.Begun), strconv.Itoa(b.Copies), some(b.Expected), strconv.Itoa(b.Filed), some(b.Unidentified)},
			about: about, batch: b.Name, sheet: func(s *Screen) *sheet { return s.batchSheet(b.Name) }})
	}
	for i := range x.bin {
		u := &x.bin[i]
		r := row{cols: []string{u.called, fmt.Sprintf("%d to look at", len(u.looks))}, apart: true, unknown: u, find: u.find,
			sheet: func(s *Screen) *sheet { return s.knownSheet(u.id) },
			about: append([]string{u.called, "space: what to look at, and what it tells; enter: what was found out"}, append(bySize(u), identify.Caution)...)}
		if i == 0 {
			r.heading = "nobody knows yet what these are"
		}
		out = append(out, r)
	}
	return out
}

func bySize(u *unknown) (out []string) {
	for _, d := range u.dated {
		out = append(out, "by its sizes: "+d+" (published charts)")
	}
	return out
}

func codeRows(x *seen) (out []row) {
	for _, l := range x.codes {
		number, read := "", "its number is not read out of the code"
		if l.Agree > 0 {
			number = percent(l.SureNumber())
			read = fmt.Sprintf("its number is read alike in %d of %d: %s sure of the next", l.Agree, l.Tried, number)
		}
		out = append(out, row{cols: []string{l.Guess.Publisher, l.Prefix, fmt.Sprintf("%d of %d", l.Sleeves, l.Of), percent(l.SurePublisher()), number},
			about: []string{fmt.Sprintf("%d of %d codes that begin with %s are of %s: %s sure of the next", l.Sleeves, l.Of, l.Prefix, l.Guess.Publisher, percent(l.SurePublisher())), read,
				"what turns out wrong and is corrected counts against the guess from then on"}})
	}
	return out
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// shown are the rows of the page.
func (s *Screen) shown() []row {
	if s.page == yearsOut {
		return s.roomRows()
	}
	return s.rows[s.page]
}

// chosen is the row that one is at; an empty one where there is none.
func (s *Screen) chosen() row {
	all := s.shown()
	if at := s.at[s.page]; at >= 0 && at < len(all) {
		return all[at]
	}
	return row{}
}

// empty says of a page that has no rows why.
func (s *Screen) empty() string {
	switch {
	case s.seen == nil:
		return "counting ..."
	case s.page == carrying:
		return "there is nothing to carry"
	case s.page == hanging:
		return "there are no hooks, and nothing lies apart; Shelf adds a row of hooks"
	case s.page == batches:
		return "no batch yet; n notes one, and the first copy entered into it begins one"
	}
	return "no sleeve with a code is listed yet; scan one in Intake"
}
