package exchange

import (
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"sync"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
	"example.org/tuckrow/storage/table"
)

// Import is a spreadsheet read and understood, and not yet stored.
type Import struct {
	Columns  []string // what each of their columns is to us; empty: not used
	Header   []string // their headings
	Entries  []model.Entry
	Lines    []int          // line in the file of each entry
	Unread   []clean.Unread // cells of entries that cannot be read, until it is settled what becomes of them
	Rejected []Rejected     // rows that cannot be used
	rows     [][]string     // cells of each entry, for rejecting it later
	unread   []Rejected     // those that cannot be used in any cupboard
}

// Rejected is a row that cannot be used, and why.
type Rejected struct {
	Line   int
	Cells  []string
	Reason string
}

// ReadCSV reads a spreadsheet. The mapping of columns is from ParseColumns; nil
// guesses all of them. The error is for files that cannot be used at all.
func ReadCSV(r io.Reader, told map[string]string) (*Import, error) {
	im, err := ReadToClean(r, told, true)
	if err != nil {
		return nil, err
	}
	im.Settle(nil)
	return im, nil
}

// ReadToClean reads a spreadsheet of which rows need not be complete yet: what is
// proposed for cleaning comes first, and Settle after it. What is strict has the
// columns that every row needs, and rejects a row of which a cell cannot be read.
func ReadToClean(r io.Reader, told map[string]string, strict bool) (*Import, error) {
	t, err := ReadTable(r)
	if err != nil {
		return nil, err
	}
	return Understand(t, told, strict)
}

// ReadTable reads a spreadsheet, whatever its columns are.
func ReadTable(r io.Reader) (*table.Table, error) {
	t, err := table.Read(r)
	if err != nil {
		return nil, &model.InputError{Text: err.Error()}
	}
	return t, nil
}

// Understand takes the rows of a spreadsheet for entries, as ReadToClean does. It
// leaves the table as it is, so that it can be understood otherwise.
func Understand(t *table.Table, told map[string]string, strict bool) (*Import, error) {
	cols, err := match(t, told, strict)
	if err != nil {
		return nil, err
	}
	im := &Import{Header: t.Header, Columns: oursOf(cols)}
	im.Lines, im.rows = make([]int, 0, len(t.Rows)), make([][]string, 0, len(t.Rows))
	for _, row := range t.Rows {
		switch {
		case row.Blank():
		case row.Extra > 0:
			im.reject(row.Line, row.Cells, fmt.Sprintf("the row has %d cells more than the header; is a delimiter in a cell that is not quoted?", row.Extra))
		default:
			im.Lines, im.rows = append(im.Lines, row.Line), append(im.rows, row.Cells)
		}
	}
	im.Entries = make([]model.Entry, len(im.rows))
	unread := make([][]clean.Unread, len(im.rows))
	each(len(im.rows), func(i int) error { unread[i] = enter(&im.Entries[i], cols, im.rows[i], i); return nil })
	im.Unread = slices.Concat(unread...)
	if strict {
		im.without(im.unsettled(nil))
	}
	return im, nil
}

// Propose proposes how to mend what was read.
func (im *Import) Propose(c *model.Collection) []clean.Proposal {
	return clean.Propose(c, im.Entries, slices.Concat(im.Unread, im.unhung(c))...)
}

// Doubts tells of the numbers that may be none, a line of text each.
func (im *Import) Doubts() []string {
	var out []string
	for _, d := range clean.Doubts(im.Entries) {
		out = append(out, fmt.Sprintf("line %d: doubtful number %q: %s", im.Lines[d.Row], d.Text, d.Why))
	}
	return out
}

// Settle applies what is taken of the proposals for cleaning, then checks the
// rows: those that cannot be used in any cupboard are rejected, and those with a
// cell that cannot be read and of which no proposal was taken.
func (im *Import) Settle(taken []clean.Proposal) {
	settled := map[cell]bool{}
	for _, p := range taken {
		for _, i := range p.Apply(im.Entries) {
			settled[cell{i, p.Unread}] = true
		}
	}
	wrong := im.unsettled(settled)
	im.without(each(len(im.Entries), func(i int) error {
		if wrong[i] != nil {
			return wrong[i]
		}
		return im.Entries[i].Normalise()
	}))
}

// cell is a field of a row.
type cell struct {
	row   int
	field string
}

// unsettled gives what is wrong with each row of which a cell cannot be read and is
// not settled; of several the first.
func (im *Import) unsettled(settled map[cell]bool) []error {
	wrong := make([]error, len(im.Entries))
	for _, u := range im.Unread {
		if !settled[cell{u.Row, u.Field}] && wrong[u.Row] == nil {
			wrong[u.Row] = u.Err
		}
	}
	im.Unread = nil
	return wrong
}

// without rejects the entries with which something is wrong.
func (im *Import) without(wrong []error) {
	n := 0
	for i, err := range wrong {
		if err != nil {
			im.reject(im.Lines[i], im.rows[i], err.Error())
			continue
		}
		if n < i {
			im.Entries[n], im.Lines[n], im.rows[n] = im.Entries[i], im.Lines[i], im.rows[i]
		}
		n++
	}
	im.Entries, im.Lines, im.rows = im.Entries[:n], im.Lines[:n], im.rows[:n]
	slices.SortStableFunc(im.Rejected, func(a, b Rejected) int { return a.Line - b.Line })
	im.unread = im.Rejected
}

func (im *Import) reject(line int, cells []string, reason string) {
	im.Rejected = append(im.Rejected, Rejected{line, cells, reason})
}

// each does something to n things, shared out among the processors, and gives
// what is wrong with each: no row depends on another, and in a large file this is
// what takes longest before the disk.
func each(n int, do func(i int) error) []error {
	const share = 1 << 10 // fewer are not worth a goroutine
	wrong, part := make([]error, n), max(share, n/runtime.GOMAXPROCS(0)+1)
	var all sync.WaitGroup
	for from := 0; from < n; from += part {
		all.Go(func() {
			for i := from; i < min(n, from+part); i++ {
				wrong[i] = do(i)
			}
		})
	}
	all.Wait()
	return wrong
}

// enter fills in an entry of the cells of a row, and gives those that cannot be read.
func enter(en *model.Entry, cols []column, cells []string, row int) (unread []clean.Unread) {
	for i := range cols {
		if c := &cols[i]; c.used && cells[i] != "" {
			if err := c.set(en, cells[i]); err != nil {
				unread = append(unread, clean.Unread{Row: row, Field: c.field.Name, Heading: c.heading, Text: cells[i], Err: err})
			}
		}
	}
	return unread
}

// Unused lists their columns that go nowhere.
func (im *Import) Unused() []string {
	var out []string
	for i, c := range im.Columns {
		if h := im.Header[i]; c == "" && h != "" && h != rejectedLine && h != rejectedWhy {
			out = append(out, im.Header[i])
		}
	}
	return out
}

// Planned is an import as it would be stored.
type Planned struct {
	Change  *model.Add
	Seconds int     // copies of a pattern that is listed already, or earlier in the file
	Again   []Again // rows of a number that the store lists already
	NewName []string
}

// New says of each box and row of hooks that is new what it is taken to be.
func (p *Planned) New(units string) []string {
	var out []string
	for _, b := range p.Change.Boxes {
		out = append(out, fmt.Sprintf("box %s is new; it is taken to be %s long", b.Name, b.Length.Fine(units)))
	}
	for _, h := range p.Change.Hooks {
		out = append(out, fmt.Sprintf("the row of hooks %q is new, with %d hooks for %d each", h.Name, h.Hooks, h.Each))
	}
	return out
}

// Plan fits the entries into a cupboard: which are further copies of a pattern,
// which boxes and hooks must be added. Rows that do not fit are added to
// Rejected. It can be called again, for the same cupboard or another.
func (im *Import) Plan(c *model.Collection, batch, file string) Planned {
	p := Planned{Change: &model.Add{From: file, Entries: make([]model.Entry, 0, len(im.Entries))}}
	im.Rejected = slices.Clone(im.unread)
	titles := newTitles(c, len(im.Entries))
	taken := map[model.Accession]int{}
	houses := map[string]*model.Publisher{} // as they are written; there are few
	for i := range im.Entries {
		all := append(p.Change.Entries, im.Entries[i])
		en := &all[len(all)-1]
		if en.Batch == "" {
			en.Batch = batch
		}
		house, looked := houses[en.Publisher]
		if !looked {
			house = c.PublisherNamed(en.Publisher)
			houses[en.Publisher] = house
		}
		if house != nil && len(house.Spellings) > 0 {
			en.Publisher = house.Name // however it is spelled there
		}
		if reason := accessionTaken(c, taken, en.Accession); reason != "" {
			im.reject(im.Lines[i], im.rows[i], reason)
			continue
		}
		if reason := boxApart(c, en.Box); reason != "" {
			im.reject(im.Lines[i], im.rows[i], reason)
			continue
		}
		if why := hookMissing(c, en.Hook); why != nil {
			im.reject(im.Lines[i], im.rows[i], why.Error())
			continue
		}
		known, reason := titles.settle(en, im.Lines[i])
		if reason != "" {
			im.reject(im.Lines[i], im.rows[i], reason)
			continue
		}
		if en.Accession != 0 {
			taken[en.Accession] = im.Lines[i]
		}
		if known {
			p.Seconds++
		}
		p.Change.Entries = all
	}
	p.Again = titles.again
	im.furnish(c, &p)
	slices.SortStableFunc(im.Rejected, func(a, b Rejected) int { return a.Line - b.Line })
	return p
}

// accessionTaken tells why a copy cannot have an accession number; 0 counts on.
func accessionTaken(c *model.Collection, taken map[model.Accession]int, a model.Accession) string {
	switch line, twice := taken[a]; {
	case a == 0:
		return ""
	case twice:
		return fmt.Sprintf("accession number %d is on line %d already; leave it empty to get the next free one", a, line)
	case c.Copy(a) != nil:
		return fmt.Sprintf("accession number %d is given to another copy already; leave it empty to get the next free one", a)
	}
	return ""
}

// boxApart tells what is wrong with a box in which nothing stands in filing order,
// and whose name no other can have.
func boxApart(c *model.Collection, name string) string {
	if name != "" && slices.ContainsFunc(c.Shelf().Oversize, func(b model.Box) bool { return strings.EqualFold(b.Name, name) }) {
		return fmt.Sprintf("box %q is one for what is oversize; write \"oversize\" as home, and empty the box", name)
	}
	return ""
}
