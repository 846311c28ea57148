package exchange

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/table"
)

// spellings are headings that people write for our columns, folded.
var spellings = map[string]string{
	"accession no": "accession", "accession number": "accession", "id": "accession",
	"company": "publisher", "brand": "publisher", "maker": "publisher", "pattern company": "publisher",
	"verlag": "publisher", "editeur": "publisher", "editor": "publisher", "house": "publisher",
	"no": "number", "nr": "number", "num": "number", "pattern number": "number", "pattern no": "number",
	"pattern nr": "number", "nummer": "number", "numero": "number", "style": "number", "style number": "number", "style no": "number",
	"title": "name", "pattern name": "name", "description": "name", "titel": "name", "nom": "name",
	"type": "category", "garment": "category", "garment type": "category", "kind": "category", "kind of garment": "category", "kategorie": "category", "categorie": "category",
	"size": "size_range", "sizes": "size_range", "sz": "size_range", "grosse": "size_range", "taille": "size_range",
	"date": "year", "yr": "year", "year of issue": "year", "copyright": "year", "jahr": "year", "annee": "year",
	"format": "medium", "cut uncut": "cut", "condition": "cut",
	"completeness": "complete", "thickness": "thickness_mm",
	"enveloped": "envelope", "pos": "position", "place": "position", "upc": "barcode", "ean": "barcode",
	"gtin": "barcode", "bar code": "barcode", "tag": "tags", "keywords": "tags",
	"note": "notes", "comment": "notes", "comments": "notes", "remarks": "notes",
	"got on": "added", "bought": "added", "bought on": "added", "acquired": "added", "date added": "added", "date bought": "added", "lent to": "out_to",
}

// ParseColumns reads "theirs=ours, theirs=ours"; ours may be empty to leave a
// column out.
func ParseColumns(text string) (map[string]string, error) {
	m := map[string]string{}
	for part := range strings.SplitSeq(text, ",") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		at := strings.LastIndexByte(part, '=') // a heading may hold one, a name of ours does not
		theirs, ours := strings.TrimSpace(part[:max(0, at)]), strings.TrimSpace(part[at+1:])
		if theirs == "" {
			return nil, model.Inputf("--columns %q: %q is not theirs=ours; write for example --columns 'Company=publisher, No.=number'", text, part)
		}
		if _, known := model.FieldNamed(ours); !known && ours != "" {
			return nil, model.Inputf("--columns %q: there is no column %q of ours; use one of %s", text, ours, strings.Join(columnNames(), ", "))
		}
		if _, twice := m[headingKey(theirs)]; twice {
			return nil, model.Inputf("--columns %q: %q is given twice; say once where it goes", text, theirs)
		}
		m[headingKey(theirs)] = ours
	}
	return m, nil
}

// patternHeadings are headings under which people keep a number or a name, though
// the first is one of ours.
var patternHeadings = []string{"pattern", "patterns"}

// Tell notes what a column of theirs is: one of our names, or nothing.
func Tell(told map[string]string, heading, ours string) { told[headingKey(heading)] = ours }

func columnNames() []string {
	var names []string
	for _, f := range model.Fields() {
		names = append(names, f.Name)
	}
	return names
}

// headingKey is what two spellings of a heading share; our own names have an
// underscore where people put a space.
func headingKey(h string) string {
	h = words.Clean(h)
	if key := words.Fold(strings.NewReplacer("_", " ", "#", " no ").Replace(h)); key != "" {
		return key
	}
	return h // of nothing but signs
}

// column is where a column of the file goes.
type column struct {
	heading string
	field   model.Field
	used    bool
}

// set reads a cell. Under a heading as an export of ours has it, or that speaks of
// millimetres, a plain number is what an export writes; else it is as people write.
func (c *column) set(en *model.Entry, cell string) error {
	if c.heading == c.field.Name || slices.Contains(strings.Fields(headingKey(c.heading)), "mm") {
		return c.field.Set(en, cell)
	}
	return c.field.Type(en, cell)
}

// match finds our column for each of theirs: first as told, then by our own
// name, then by a known spelling; what comes later leaves alone what is there.
// It complains when two of theirs are told to go into one of ours, or when what
// is required is missing.
func match(t *table.Table, told map[string]string, strict bool) ([]column, error) {
	cols, err := recognise(t, told, strict)
	if err != nil {
		return nil, err
	}
	return cols, required(t.Header, oursOf(cols), strict)
}

// Recognise says what each column is to us, empty where nothing, whether or not a
// file with such columns could be used: its rows are to be cleaned first.
func Recognise(t *table.Table, told map[string]string) ([]string, error) {
	cols, err := recognise(t, told, false)
	return oursOf(cols), err
}

// oursOf lists the names of our columns for theirs.
func oursOf(cols []column) []string {
	out := make([]string, len(cols))
	for i, c := range cols {
		if c.used {
			out[i] = c.field.Name
		}
	}
	return out
}

// recognise guesses by heading, and by what the cells hold where people give a
// heading of ours to something else.
func recognise(t *table.Table, told map[string]string, strict bool) ([]column, error) {
	header, at := t.Header, map[string]int{} // the column of each of ours
	cols, keys := make([]column, len(header)), make([]string, len(header))
	for i, h := range header {
		cols[i].heading, keys[i] = h, headingKey(h)
	}
	use := func(i int, name string) {
		if _, taken := at[name]; !taken && name != "" {
			cols[i].field, cols[i].used = mustField(name), true
			at[name] = i
		}
	}
	for i, key := range keys {
		name := told[key]
		other, twice := at[name]
		if twice && keys[other] != key { // of two that are headed alike the first counts
			return nil, model.Inputf("columns %q and %q both go into %q; leave one out (at the command line: --columns '%s='), or change its heading in the file", header[other], header[i], name, header[other])
		}
		use(i, name)
	}
	guess := func(known func(i int, key string) string) {
		for i, key := range keys {
			if _, isTold := told[key]; !isTold && !cols[i].used {
				use(i, known(i, key))
			}
		}
	}
	guess(func(_ int, key string) string {
		if slices.Contains(patternHeadings, key) {
			return ""
		}
		return ourName(key)
	})
	guess(func(i int, key string) string {
		if name := spellings[key]; name != "" && fits(t, i, name, strict) {
			return name
		}
		return ""
	})
	guess(func(i int, key string) string {
		if !slices.Contains(patternHeadings, key) {
			return ""
		}
		name := patternField(t, i, at)
		if of, counter := at[name]; counter { // that only numbers the rows
			cols[of].used = false
			delete(at, name)
		}
		return name
	})
	for key := range told {
		if !slices.Contains(keys, key) {
			return nil, model.Inputf("--columns: the file has no column %q; it has %s", key, quoted(header))
		}
	}
	return cols, nil
}

// MissingError is a spreadsheet without the columns that every row needs.
type MissingError struct {
	Publisher, Title bool // which are missing; the title is a number or a name
	Header           []string
}

func (e *MissingError) Error() string {
	switch has := quoted(e.Header); {
	case e.Publisher && e.Title:
		return fmt.Sprintf("the file needs a column for the publisher, and one for the number or the name; it has %s; say which is which (at the command line: --columns 'theirs=publisher, theirs=number')", has)
	case e.Publisher:
		return fmt.Sprintf("the file needs a column for the publisher; it has %s; say which it is (at the command line: --columns 'theirs=publisher'; --clean shows whether it stands in one cell with the number)", has)
	default:
		return fmt.Sprintf("the file needs a column for the number or the name; it has %s; say which it is (at the command line: --columns 'theirs=number')", has)
	}
}

// Unwrap tells that it is the user's input.
func (e *MissingError) Unwrap() error { return &model.InputError{Text: e.Error()} }

// required tells whether there are the columns that every row needs. Where rows
// are to be cleaned first, publisher and number may stand in one.
func required(header, ours []string, strict bool) error {
	has := func(name string) bool { return slices.Contains(ours, name) }
	e := &MissingError{!has("publisher"), !has("number") && !has("name"), header}
	if !e.Publisher && !e.Title || !strict && (has("publisher") || has("number")) {
		return nil
	}
	return e
}

// ourName gives the name of the column of ours that is headed so, or nothing.
func ourName(key string) string {
	if name := strings.ReplaceAll(key, " ", "_"); slices.Contains(columnNames(), name) {
		return name
	}
	return ""
}

func mustField(name string) model.Field {
	f, ok := model.FieldNamed(name)
	if !ok {
		panic("no field " + name) // spellings name fields of ours; a test checks them
	}
	return f
}

func quoted(names []string) string {
	q := make([]string, len(names))
	for i, n := range names {
		q[i] = fmt.Sprintf("%q", n)
	}
	return strings.Join(q, ", ")
}
