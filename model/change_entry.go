package model

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model/words"
)

// Add enters copies: one at intake, thousands from a file, all or none.
type Add struct {
	Boxes   []BoxSpec  `json:"boxes,omitempty"` // that entries stand in and the shelf lacks
	Hooks   []HookSpec `json:"hooks,omitempty"` // likewise
	Entries []Entry    `json:"entries"`
	From    string     `json:"from,omitempty"` // the file they came from
}

// EntryError is an entry of an Add that cannot be used.
type EntryError struct {
	Index int
	Err   error
}

func (e *EntryError) Error() string { return "entry " + strconv.Itoa(e.Index+1) + ": " + e.Err.Error() }

// Unwrap gives what is wrong with the entry.
func (e *EntryError) Unwrap() error { return e.Err }

// Title implements Change.
func (ch *Add) Title(*Collection) string {
	switch {
	case ch.From != "":
		return "imported " + words.Count(len(ch.Entries), "copy", "copies") + " from " + ch.From
	case len(ch.Entries) == 1:
		return "added " + (&Pattern{Number: ch.Entries[0].Number, Name: ch.Entries[0].Name}).Heading()
	}
	return "added " + words.Count(len(ch.Entries), "copy", "copies")
}

func (ch *Add) apply(e *editor) error {
	if err := e.furnish("", ch.Boxes, ch.Hooks); err != nil {
		return err
	}
	e.delta = slices.Grow(e.delta, 2*len(ch.Entries)) // most are a pattern and a copy
	e.expect(2 * len(ch.Entries))                     // a pattern and a copy each
	var stand []standAt
	boxes := map[string]BoxID{} // a file names few boxes, many times
	for i := range ch.Entries {
		en := ch.Entries[i]
		a, err := e.enter(&en)
		if err != nil {
			return &EntryError{i, err}
		}
		if en.Box != "" {
			id, known := boxes[en.Box]
			if !known {
				b, there := e.c.shelf.boxNamed(en.Box)
				if !there {
					_, err := e.c.shelf.BoxNamed(en.Box)
					return &EntryError{i, err}
				}
				id, boxes[en.Box] = b.ID, b.ID
			}
			stand = append(stand, standAt{id, cmp.Or(en.Position, MostNumber), a})
		}
	}
	e.insert(stand)
	return nil
}

// tagSigns separate tags in a cell, and so are none of a tag's own.
const tagSigns = ";,"

// Normalise cleans the texts of an entry and checks what can be checked
// without a collection.
func (en *Entry) Normalise() error {
	cleanAll(&en.Publisher, &en.Number, &en.Name, &en.FilesAs, &en.Category, &en.SizeRange, &en.DatedBy,
		&en.Complete, &en.Box, &en.Hook, &en.Batch, &en.Barcode, &en.Notes, &en.Left, &en.Print.Paper, &en.Print.Version)
	en.Tags, en.Also, en.Copied = cleanTags(en.Tags), cleanList(en.Also), cleanList(en.Copied)
	if en.unknown() && !slices.ContainsFunc(en.Tags, isUnidentified) {
		en.Tags = append(en.Tags, Unidentified)
	}
	if en.Category == "" && len(en.Also) > 0 {
		en.Category = en.Also[0] // one of them is its home
	}
	if err := en.cleanFurther(); err != nil {
		return err
	}
	if en.Publisher == "" {
		return &FieldError{"publisher", "", "is missing", "say who issued it; for your own, the drafter's name"}
	}
	if err := noPublisher(en.Publisher); err != nil {
		return err
	}
	if en.Number == "" && en.Name == "" {
		return &FieldError{"number", "", "is missing, and so is the name", "give one of them"}
	}
	if en.Box != "" && en.Hook != "" {
		return TwoPlaces(en.Hook)
	}
	if en.Missing != "" && (en.Box+en.Hook != "" || en.Out != nil) {
		return &FieldError{"missing", string(en.Missing), "cannot be while the copy is in a box, on a hook, or out", "empty missing, or where it is"}
	}
	if err := en.cleanSizes(); err != nil {
		return err
	}
	if err := en.cleanPieces(); err != nil {
		return err
	}
	return en.checkValues()
}

// unknown tells whether nobody knows who issued it.
func (en *Entry) unknown() bool { return notKnown(en.Publisher) }

// cleanTags cleans tags, and takes out of them what separates them. It does that
// on cleaned text: cleaning makes a semicolon of the Greek question mark, which
// looks like one.
func cleanTags(tags []string) []string {
	out := cleanList(tags)
	for i, t := range out {
		out[i] = strings.Map(func(r rune) rune {
			if strings.ContainsRune(tagSigns, r) {
				return ' '
			}
			return r
		}, t)
	}
	return cleanList(out)
}

// cleanList cleans texts and keeps each once.
func cleanList(list []string) []string {
	var out []string
	for _, t := range list {
		if t = words.Clean(t); t != "" && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return out
}

// checkValues finds what no field lets in but a change read from elsewhere may
// hold.
func (en *Entry) checkValues() error {
	var out Out
	if en.Out != nil {
		out = *en.Out
	}
	for _, d := range []struct {
		field string
		date  Date
	}{{"added", en.Added}, {"out_since", out.Since}, {"out_due", out.Due}, {"missing", en.Missing}} {
		if _, err := ParseDate(d.field, string(d.date)); err != nil {
			return err
		}
	}
	fits := func(n, most int) bool { return n >= 0 && n <= most }
	switch {
	case !fits(int(en.Accession), MostNumber), !fits(int(en.Pattern), MostNumber), !fits(en.Position, MostNumber), !fits(en.Year, mostYear):
		return Inputf("a number of the entry does not fit: accession %d, pattern %d, position %d, year %d", en.Accession, en.Pattern, en.Position, en.Year)
	case !fits(en.Print.Pages, mostPages) || !sane(en.Print.Square.MM()) || !sane(en.Print.Side.MM()) || en.Value < 0 || en.Value > mostMoney:
		return Inputf("a number of the entry does not fit: %d pages, test square %s, value %s", en.Print.Pages, en.Print.Square, en.Value)
	case en.Thickness < 0 || !sane(en.Thickness.MM()):
		return &FieldError{"thickness_mm", en.Thickness.number(), "is not a thickness", "give millimetres, like 5 or 12.5"}
	}
	return cmp.Or(asKept("medium", en.Medium, ParseMedium), asKept("cut", en.Cut, ParseCut),
		asKept("home", en.Home, ParseHome), asKept("sleeve", en.Sleeve, ParseSleeve))
}

// asKept tells whether a value is one of those that its parser gives.
func asKept[T ~string](field string, v T, parse func(string) (T, error)) error {
	if v == "" {
		return nil
	}
	kept, err := parse(string(v))
	if err == nil && kept != v {
		err = &FieldError{field, string(v), "is not spelled as it is kept", "write " + strconv.Quote(string(kept))}
	}
	return err
}

// enter makes the records of one entry, but does not stand it in a box.
func (e *editor) enter(en *Entry) (Accession, error) {
	if err := en.Normalise(); err != nil {
		return 0, err
	}
	a, err := en.Accession, error(nil)
	if a == 0 {
		if a, err = next(e.c.counters.Copy, "accession", &e.c.copies); err != nil {
			return 0, err
		}
	} else if e.c.Copy(a) != nil {
		return 0, &FieldError{"accession", strconv.Itoa(int(a)), "is given to another copy already", "leave it empty to get the next free one"}
	}
	hook, err := e.hook(en.Hook)
	if err != nil {
		return 0, err
	}
	pattern, err := e.pattern(en)
	if err != nil {
		return 0, err
	}
	cp := &Copy{Accession: a, Pattern: pattern}
	en.fill(cp)
	cp.Added, cp.Hook, cp.Batch, cp.Missing = cmp.Or(en.Added, e.at), hook, e.batch(en.Batch), en.Missing
	if en.Out != nil {
		cp.Out = &Out{cmp.Or(en.Out.Since, e.at), words.Clean(en.Out.To), words.Clean(en.Out.For), en.Out.Due}
	}
	e.put(cp)
	return a, nil
}

// fill writes what an entry says of the copy itself.
func (en *Entry) fill(cp *Copy) {
	cp.Medium, cp.Cut, cp.Complete, cp.Bulky = en.Medium, en.Cut, en.Complete, en.Bulky
	cp.Thickness, cp.Home, cp.Sleeve = en.Thickness, en.Home, en.Sleeve
	cp.Enveloped, cp.Grouped, cp.Notes, cp.Left = en.Enveloped, en.Grouped, en.Notes, en.Left
	cp.Print, cp.Value, cp.Pieces = en.Print, en.Value, en.Found
}

// pattern finds the pattern that an entry names by number, or the one into which
// that was merged, or makes one.
func (e *editor) pattern(en *Entry) (PatternID, error) {
	if en.Pattern != 0 && e.c.Pattern(en.Pattern) != nil {
		return en.Pattern, nil
	}
	if en.Pattern != 0 && en.Pattern <= e.from.counters.Pattern {
		if into := e.mergedInto(en.Pattern); into != 0 {
			return into, nil
		}
	}
	p := &Pattern{ID: en.Pattern}
	if p.ID == 0 {
		var err error
		if p.ID, err = next(e.c.counters.Pattern, "pattern", &e.c.patterns); err != nil {
			return 0, err
		}
	}
	e.titled(p, en)
	e.put(p)
	return p.ID, nil
}

// titled writes what an entry says of the pattern.
func (e *editor) titled(p *Pattern, en *Entry) {
	p.Publisher, p.Category = e.publisher(en.Publisher), e.category(en.Category)
	p.Number, p.Name, p.FilesAs, p.SizeRange = en.Number, en.Name, en.FilesAs, en.SizeRange
	p.Year, p.DatedBy, p.Barcode, p.Tags = en.Year, en.DatedBy, en.Barcode, en.Tags
	p.Sizes, p.Needs, p.Pieces = en.Sizes, en.Needs, en.Pieces
	p.Also, p.Copied = e.further(en.Also, p.Category), e.further(en.Copied, p.Category)
	e.bin(p)
}

// hook reads "door 3".
func (e *editor) hook(text string) (Hook, error) {
	if text == "" {
		return Hook{}, nil
	}
	name, num, ok := cutLast(text)
	n, err := strconv.Atoi(num)
	row, known := e.c.shelf.HookRowNamed(name)
	switch {
	case !ok || err != nil:
		return Hook{}, &FieldError{"hook", text, "is not a row and a hook", `write the row's name and the hook, like "door 3"`}
	case !known:
		return Hook{}, &FieldError{"hook", text, "is on no row of hooks that the shelf has", "add the row with: tuckrow shelf apply FILE"}
	case n < 1 || n > row.Hooks:
		return Hook{}, &FieldError{"hook", text, "is not on that row", "it has hooks 1 to " + strconv.Itoa(row.Hooks)}
	}
	return Hook{row.ID, n}, nil
}

func cutLast(s string) (before, after string, ok bool) {
	i := strings.LastIndexByte(s, ' ')
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+1:], true
}

// Hook writes a hook as the entry reads it: "door 3"; empty when none.
func (c *Collection) HookText(h Hook) string {
	for _, row := range c.shelf.Hooks {
		if row.ID == h.Row {
			return row.Name + " " + strconv.Itoa(h.N)
		}
	}
	return ""
}

// standAt is a copy to be put into a box at a position from the front.
type standAt struct {
	box      BoxID
	position int
	copy     Accession
}

// insert stands copies in boxes, those further front first, so that each comes
// to stand at its position where the row is long enough.
func (e *editor) insert(stand []standAt) {
	slices.SortStableFunc(stand, func(a, b standAt) int {
		return cmp.Or(cmp.Compare(a.box, b.box), cmp.Compare(a.position, b.position))
	})
	for len(stand) > 0 {
		n := 1
		for n < len(stand) && stand[n].box == stand[0].box {
			n++
		}
		box, old := stand[0].box, e.c.Row(stand[0].box)
		row := make([]Accession, 0, len(old)+n)
		for _, s := range stand[:n] {
			take := min(len(old), max(0, s.position-1-len(row)))
			row = append(append(row, old[:take]...), s.copy)
			old = old[take:]
		}
		e.setRow(box, append(row, old...))
		stand = stand[n:]
	}
}

// TitleOf writes what is said of a pattern as the entry of a further copy of it.
func (c *Collection) TitleOf(p *Pattern) Entry {
	en := Entry{
		Pattern: p.ID, Publisher: c.Publisher(p.Publisher).Name, Number: p.Number, Name: p.Name, FilesAs: p.FilesAs,
		SizeRange: p.SizeRange, Year: p.Year, DatedBy: p.DatedBy, Barcode: p.Barcode, Tags: p.Tags,
		Sizes: p.Sizes, Needs: p.Needs, Pieces: p.Pieces,
	}
	if k := c.Category(p.Category); k != nil {
		en.Category = k.Name
	}
	for _, id := range p.Also {
		en.Also = append(en.Also, c.Category(id).Name)
	}
	for _, id := range p.Copied {
		en.Copied = append(en.Copied, c.Category(id).Name)
	}
	return en
}

// EntryOf writes a copy as the entry that would make it again.
func (c *Collection) EntryOf(cp *Copy) Entry {
	en := c.TitleOf(c.Pattern(cp.Pattern))
	en.Accession = cp.Accession
	en.Medium, en.Cut, en.Complete, en.Bulky, en.Thickness = cp.Medium, cp.Cut, cp.Complete, cp.Bulky, cp.Thickness
	en.Home, en.Sleeve, en.Enveloped, en.Grouped = cp.Home, cp.Sleeve, cp.Enveloped, cp.Grouped
	en.Hook, en.Added, en.Notes, en.Left = c.HookText(cp.Hook), cp.Added, cp.Notes, cp.Left
	en.Print, en.Value, en.Found, en.Missing = cp.Print, cp.Value, cp.Pieces, cp.Missing
	if cp.Out != nil {
		out := *cp.Out // an entry may be altered, a collection not
		en.Out = &out
	}
	if b := c.Batch(cp.Batch); b != nil {
		en.Batch = b.Name
	}
	if s, ok := c.Standing(cp.Accession); ok {
		box, _ := c.shelf.Box(s.Box)
		en.Box, en.Position = box.Name, s.Index+1
	}
	return en
}

// Revise corrects an entry: its pattern and its copy are made to say what the
// entry says. Where the copy stands is not part of it.
type Revise struct {
	Entry Entry `json:"entry"` // Accession says which
}

// Title implements Change.
func (ch *Revise) Title(c *Collection) string { return "changed " + c.heading(ch.Entry.Accession) }

func (ch *Revise) apply(e *editor) error {
	en := ch.Entry
	old, err := e.copyOrErr(en.Accession)
	if err != nil {
		return err
	}
	en.Box, en.Hook, en.Missing = "", "", "" // where it is, is not part of it
	if err := en.Normalise(); err != nil {
		return err
	}
	p := *e.c.Pattern(old.Pattern)
	if was := e.c.TitleOf(&p); was.unknown() && !en.unknown() { // it is known now
		en.Tags = identified(en.Tags)
	}
	e.titled(&p, &en)
	e.put(&p)
	cp := *old
	en.fill(&cp)
	cp.Added, cp.Batch = cmp.Or(en.Added, old.Added), e.batch(en.Batch)
	e.put(&cp)
	return nil
}
