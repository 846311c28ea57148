package model

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Entry is all that can be said of one copy in one go: a line of intake, a row
// of a spreadsheet. Publisher, and a number or a name, are required; the rest
// may be empty.
type Entry struct {
	Accession Accession `json:"accession,omitempty"` // 0: the next
	Pattern   PatternID `json:"pattern,omitempty"`   // 0: a new one; else another copy of that pattern, or a new one under that number
	Publisher string    `json:"publisher"`
	Number    string    `json:"number,omitempty"`
	Name      string    `json:"name,omitempty"`
	FilesAs   string    `json:"files_as,omitempty"`
	Category  string    `json:"category,omitempty"`
	Also      []string  `json:"also_in,omitempty"`        // further categories, of a pattern for several garments
	Copied    []string  `json:"photocopied_in,omitempty"` // those of Also whose binder has a photocopy of the sleeve
	SizeRange string    `json:"size_range,omitempty"`
	Year      int       `json:"year,omitempty"`
	DatedBy   string    `json:"dated_by,omitempty"`
	Medium    Medium    `json:"medium,omitempty"`
	Cut       Cut       `json:"cut,omitempty"`
	Complete  string    `json:"complete,omitempty"`
	Bulky     bool      `json:"bulky,omitempty"`
	Thickness Length    `json:"thickness_mm,omitempty"`
	Home      Home      `json:"home,omitempty"`
	Sleeve    Sleeve    `json:"sleeve,omitempty"`
	Enveloped bool      `json:"envelope,omitempty"`
	Grouped   bool      `json:"grouped,omitempty"`
	Box       string    `json:"box,omitempty"`
	Position  int       `json:"position,omitempty"` // from the front, 1 first; 0: at the end
	Hook      string    `json:"hook,omitempty"`     // "door 3"
	Batch     string    `json:"batch,omitempty"`
	Added     Date      `json:"added,omitempty"` // empty: the day of the change
	Barcode   string    `json:"barcode,omitempty"`
	Tags      []string  `json:"tags,omitempty"`
	Notes     string    `json:"notes,omitempty"`
	Out       *Out      `json:"out,omitempty"`
	Sizes     []Size    `json:"sizes,omitempty"`
	Needs     []Need    `json:"needs,omitempty"`
	Left      string    `json:"sizes_left,omitempty"`
	Print     Print     `json:"print,omitzero"`
	Value     Money     `json:"value,omitempty"`
	Pieces    []string  `json:"pieces,omitempty"` // as the guide sheet lists them
	Found     *Pieces   `json:"found,omitempty"`  // gone through piece by piece
	Missing   Date      `json:"missing,omitempty"`
}

// Field is one named value of an entry, as a column of a spreadsheet or a word
// on the command line gives it.
type Field struct {
	Name string
	Help string
	get  func(*Entry) string
	set  func(*Entry, string) error
}

// Fields lists the fields in the order of the columns.
func Fields() []Field { return fields }

// FieldNamed finds a field by its name.
func FieldNamed(name string) (Field, bool) {
	for _, f := range fields {
		if f.Name == name {
			return f, true
		}
	}
	return Field{}, false
}

// Get gives the field's value as text; empty when there is none.
func (f Field) Get(e *Entry) string { return f.get(e) }

// Set reads the field's value from text. The error is a *FieldError.
func (f Field) Set(e *Entry, text string) error {
	cleanAll(&text)
	return f.set(e, text)
}

// free is a field of free text.
func free(name, help string, at func(*Entry) *string) Field {
	return Field{name, help, func(e *Entry) string { return *at(e) }, func(e *Entry, s string) error { *at(e) = s; return nil }}
}

// choice is a field with a fixed set of values.
func choice[T ~string](name, help string, at func(*Entry) *T, parse func(string) (T, error)) Field {
	return Field{name, help, func(e *Entry) string { return string(*at(e)) }, func(e *Entry, s string) (err error) {
		*at(e), err = parse(s)
		return err
	}}
}

// whole is a field with a whole number from 1 up to a limit; 0 is nothing.
func whole[T ~int | ~uint32](name, help string, most int, at func(*Entry) *T) Field {
	get := func(e *Entry) string {
		if *at(e) == 0 {
			return ""
		}
		return strconv.FormatInt(int64(*at(e)), 10)
	}
	return Field{name, help, get, func(e *Entry, s string) error {
		if s == "" {
			*at(e) = 0
			return nil
		}
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 || n > most {
			return &FieldError{name, s, "is not a whole number that fits", fmt.Sprintf("give a number from 1 to %d, or leave it empty", most)}
		}
		*at(e) = T(n)
		return nil
	}}
}

// yesNo is a field that is ticked or not.
func yesNo(name, help string, at func(*Entry) *bool) Field {
	get := func(e *Entry) string {
		if *at(e) {
			return "yes"
		}
		return ""
	}
	return Field{name, help, get, func(e *Entry, s string) (err error) {
		*at(e), err = ParseYes(name, s)
		return err
	}}
}

// MostNumber is the highest number of a copy or a pattern, typed, read or counted
// on, and the last position in a box. It is far above any collection, and small
// enough that tables by number stay small.
const MostNumber = 9_999_999

// mostPages is far above what one prints at home.
const mostPages = 9_999

var fields = []Field{
	whole("accession", "arrival number; empty gives the next", MostNumber, func(e *Entry) *Accession { return &e.Accession }),
	free("publisher", "who issued it (required)", func(e *Entry) *string { return &e.Publisher }),
	free("number", "as printed (this or a name is required)", func(e *Entry) *string { return &e.Number }),
	free("name", "what it is called", func(e *Entry) *string { return &e.Name }),
	free("category", "garment category, that is the binder", func(e *Entry) *string { return &e.Category }),
	free("size_range", `"H5" or "10-16"`, func(e *Entry) *string { return &e.SizeRange }),
	year,
	free("dated_by", "copyright, postmark, price, guess", func(e *Entry) *string { return &e.DatedBy }),
	choice("medium", "empty for factory tissue; printed, traced, drafted, magazine", func(e *Entry) *Medium { return &e.Medium }, ParseMedium),
	choice("cut", "uncut, partly, cut", func(e *Entry) *Cut { return &e.Cut }, ParseCut),
	free("complete", `"yes", or what is missing; empty when not checked`, func(e *Entry) *string { return &e.Complete }),
	{"thickness_mm", "in its envelope, as measured", getThickness, setThickness},
	choice("sleeve", "binder, photocopy, with tissue, missing; empty when not dealt with", func(e *Entry) *Sleeve { return &e.Sleeve }, ParseSleeve),
	yesNo("envelope", "yes when in its labelled envelope", func(e *Entry) *bool { return &e.Enveloped }),
	free("box", "where it stands now", func(e *Entry) *string { return &e.Box }),
	whole("position", "from the front of the box, 1 first", MostNumber, func(e *Entry) *int { return &e.Position }),
	free("hook", `row and hook: "door 3"`, func(e *Entry) *string { return &e.Hook }),
	free("batch", "what it came in with", func(e *Entry) *string { return &e.Batch }),
	free("barcode", "digits of the sleeve's code", func(e *Entry) *string { return &e.Barcode }),
	{"tags", "words with ; between", func(e *Entry) string { return strings.Join(e.Tags, "; ") }, setTags},
	several("also_in", "further categories with ; between: a see-also entry in their binders", func(e *Entry) *[]string { return &e.Also }),
	several("photocopied_in", "those of also_in whose binder has a photocopy of the sleeve, with ; between", func(e *Entry) *[]string { return &e.Copied }),
	free("notes", "anything else", func(e *Entry) *string { return &e.Notes }),
	whole("pattern", "rows with the same number here are copies of one pattern", MostNumber, func(e *Entry) *PatternID { return &e.Pattern }),
	free("files_as", "spelling by which the name is filed", func(e *Entry) *string { return &e.FilesAs }),
	yesNo("bulky", "yes for coats and several garments", func(e *Entry) *bool { return &e.Bulky }),
	choice("home", "box, hook or oversize; empty goes by the medium", func(e *Entry) *Home { return &e.Home }, ParseHome),
	yesNo("grouped", "yes when sorted to its publisher", func(e *Entry) *bool { return &e.Grouped }),
	{"added", "day of arrival", func(e *Entry) string { return string(e.Added) }, func(e *Entry, s string) (err error) {
		e.Added, err = ParseDate("added", s)
		return err
	}},
	outField("out_since", "day it was taken out", func(o *Out) *string { return (*string)(&o.Since) }),
	outField("out_to", "who has it", func(o *Out) *string { return &o.To }),
	outField("out_for", "what for", func(o *Out) *string { return &o.For }),
	outField("out_due", "day it is to be back", func(o *Out) *string { return (*string)(&o.Due) }),
	{"missing", "day it was looked for and not found", func(e *Entry) string { return string(e.Missing) }, func(e *Entry, s string) (err error) {
		e.Missing, err = ParseDate("missing", s)
		return err
	}},
	free("sizes_left", `sizes that are left after cutting: "10-12"`, func(e *Entry) *string { return &e.Left }),
	whole("pages", "of what was printed at home", mostPages, func(e *Entry) *int { return &e.Print.Pages }),
	free("paper", "that it was printed on", func(e *Entry) *string { return &e.Print.Paper }),
	{"test_square_mm", "side of the test square as printed, when it was measured", func(e *Entry) string { return lengthCell(e.Print.Square) }, func(e *Entry, s string) (err error) {
		if e.Print.Square, err = parseCell(s); err != nil {
			return &FieldError{"test_square_mm", s, "is not a length", "give millimetres, like 100 or 4 in"}
		}
		return nil
	}},
	{"square_side_mm", "side that the file says its test square has", func(e *Entry) string { return lengthCell(e.Print.Side) }, func(e *Entry, s string) (err error) {
		if e.Print.Side, err = parseCell(s); err != nil {
			return &FieldError{"square_side_mm", s, "is not a length", "give millimetres, like 100 or 4 in"}
		}
		return nil
	}},
	yesNo("assembled", "yes when the pages are stuck together", func(e *Entry) *bool { return &e.Print.Assembled }),
	free("version", "of the file", func(e *Entry) *string { return &e.Print.Version }),
	{"value", "to an insurer, in your money: 12.50", func(e *Entry) string { return e.Value.cell() }, func(e *Entry, s string) (err error) {
		e.Value, err = ParseMoney(s)
		return err
	}},
	{"pieces", "as the guide sheet lists them, with ; between", func(e *Entry) string { return strings.Join(e.Pieces, cellSign+" ") }, func(e *Entry, s string) (err error) {
		e.Pieces, err = ParsePieces(s)
		return err
	}},
	{"pieces_found", "those looked for: front; back | torn; collar | missing", func(e *Entry) string { return e.Found.String() }, func(e *Entry, s string) (err error) {
		e.Found, err = ParseFound(s)
		return err
	}},
	{"size_chart", "the sleeve's chart, with units (a file may have plain mm): " + sizeExample + "; 12 | ...", func(e *Entry) string { return SizesText(e.Sizes) }, func(e *Entry, s string) (err error) {
		e.Sizes, err = ParseSizes(s)
		return err
	}},
	{"cloth_needed", "cloth as on the sleeve, likewise: " + needExample + "; B | ...", func(e *Entry) string { return NeedsText(e.Needs) }, func(e *Entry, s string) (err error) {
		e.Needs, err = ParseNeeds(s)
		return err
	}},
}

// TwoPlaces says that a copy cannot be on a hook while it stands in a box.
func TwoPlaces(hook string) *FieldError {
	return &FieldError{"hook", hook, "cannot be while the copy stands in a box too", "empty one of box and hook"}
}

func getThickness(e *Entry) string {
	if e.Thickness == 0 {
		return ""
	}
	return e.Thickness.number()
}

func setThickness(e *Entry, s string) (err error) {
	e.Thickness = 0
	if s != "" {
		if e.Thickness, err = ParseLength(s); err != nil {
			return &FieldError{"thickness_mm", s, "is not a thickness", "give millimetres, like 5 or 12.5"}
		}
	}
	return nil
}

// setTags reads tags with semicolons or commas between.
func setTags(e *Entry, s string) error {
	e.Tags = nil
	for _, t := range strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(tagSigns, r) }) {
		if t = strings.TrimSpace(t); t != "" {
			e.Tags = append(e.Tags, t)
		}
	}
	return nil
}

// several is a field of names with semicolons between. A name is kept as it is,
// so one that holds the separator is quoted as in a row of CSV (RFC 4180).
func several(name, help string, at func(*Entry) *[]string) Field {
	get := func(e *Entry) string {
		cells := slices.Clone(*at(e))
		for i, n := range cells {
			if strings.ContainsAny(n, cellSign+`"`) {
				cells[i] = `"` + strings.ReplaceAll(n, `"`, `""`) + `"`
			}
		}
		return strings.Join(cells, cellSign+" ")
	}
	return Field{name, help, get, func(e *Entry, s string) error {
		cells := strings.Split(s, cellSign)
		if strings.Contains(s, `"`) {
			r := csv.NewReader(strings.NewReader(s))
			r.Comma, r.LazyQuotes, r.TrimLeadingSpace, r.FieldsPerRecord = rune(cellSign[0]), true, true, -1
			rows, err := r.ReadAll()
			if err != nil {
				return &FieldError{name, s, "cannot be read as a list of names", `put ; between them, and quotes round one that has a ; in it: Coats; "Hats; gloves"`}
			}
			cells = slices.Concat(rows...)
		}
		*at(e) = cleanList(cells)
		return nil
	}}
}

func outField(name, help string, at func(*Out) *string) Field {
	get := func(e *Entry) string {
		if e.Out == nil {
			return ""
		}
		return *at(e.Out)
	}
	return Field{name, help, get, func(e *Entry, s string) error {
		if s == "" && e.Out == nil {
			return nil
		}
		if name == "out_since" || name == "out_due" {
			if _, err := ParseDate(name, s); err != nil {
				return err
			}
		}
		if e.Out == nil {
			e.Out = &Out{}
		}
		*at(e.Out) = s
		return nil
	}}
}

// ParseDate reads a day as 2026-11-25; nothing is no day.
func ParseDate(field, s string) (Date, error) {
	if s == "" {
		return "", nil
	}
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		return "", &FieldError{field, s, "is not a day", `write year-month-day, like "2026-11-25"`}
	}
	return Date(s), nil
}
