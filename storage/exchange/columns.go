package exchange

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// spellings are headings that people write for our columns, folded.
var spellings = map[string]string{
	"accession no": "accession", "accession number": "accession", "id": "accession",
	"company": "publisher", "brand": "publisher", "maker": "publisher", "pattern company": "publisher",
	"verlag": "publisher", "editeur": "publisher", "editor": "publisher", "house": "publisher",
	"no": "number", "nr": "number", "num": "number", "pattern number": "number", "pattern no": "number",
	"pattern nr": "number", "nummer": "number", "numero": "number", "style": "number", "style number": "number", "style no": "number",
	"title": "name", "pattern name": "name", "description": "name", "titel": "name", "nom": "name",
	"type": "category", "garment": "category", "garment type": "category", "kategorie": "category", "categorie": "category",
	"size": "size_range", "sizes": "size_range", "grosse": "size_range", "taille": "size_range",
	"date": "year", "year of issue": "year", "copyright": "year", "jahr": "year", "annee": "year",
	"format": "medium", "cut uncut": "cut", "condition": "cut",
	"completeness": "complete", "thickness": "thickness_mm",
	"enveloped": "envelope", "pos": "position", "place": "position", "upc": "barcode", "ean": "barcode",
	"gtin": "barcode", "bar code": "barcode", "tag": "tags", "keywords": "tags",
	"note": "notes", "comment": "notes", "comments": "notes", "remarks": "notes",
	"lent to": "out_to",
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

// match finds our column for each of theirs: first as told, then by our own
// name, then by a known spelling; what comes later leaves alone what is there.
// It complains when two of theirs are told to go into one of ours, or when what
// is required is missing.
func match(header []string, told map[string]string, strict bool) ([]column, error) {
	cols, from, keys := make([]column, len(header)), map[string]string{}, make([]string, len(header))
	for i, h := range header {
		cols[i].heading, keys[i] = h, headingKey(h)
	}
	use := func(i int, name string) {
		if _, taken := from[name]; !taken && name != "" {
			cols[i].field, cols[i].used = mustField(name), true
			from[name] = header[i]
		}
	}
	for i, key := range keys {
		name := told[key]
		if other, twice := from[name]; twice {
			return nil, model.Inputf("columns %q and %q both go into %q; leave one out with --columns '%s=', or change its heading in the file", other, header[i], name, other)
		}
		use(i, name)
	}
	for _, known := range []func(key string) string{ourName, func(key string) string { return spellings[key] }} {
		for i, key := range keys {
			if _, isTold := told[key]; !isTold && !cols[i].used {
				use(i, known(key))
			}
		}
	}
	for key := range told {
		if !slices.Contains(keys, key) {
			return nil, model.Inputf("--columns: the file has no column %q; it has %s", key, quoted(header))
		}
	}
	if !strict && from["publisher"]+from["number"] != "" {
		return cols, nil // the one may stand in the column of the other
	}
	switch hasTitle := from["number"] != "" || from["name"] != ""; {
	case from["publisher"] == "" && !hasTitle:
		return nil, model.Inputf("the file needs a column for the publisher, and one for the number or the name; it has %s; say which is which with --columns 'theirs=publisher, theirs=number'", quoted(header))
	case from["publisher"] == "":
		return nil, model.Inputf("the file needs a column for the publisher; it has %s; say which it is with --columns 'theirs=publisher'", quoted(header))
	case !hasTitle:
		return nil, model.Inputf("the file needs a column for the number or the name; it has %s; say which it is with --columns 'theirs=number'", quoted(header))
	}
	return cols, nil
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
