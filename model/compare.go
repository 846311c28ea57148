package model

// fieldNames are the fields of a pattern by the names that they have in an entry.
// What is not among them is no text that stands on a sleeve.
var fieldNames = map[string]string{
	"Publisher": "publisher", "Number": "number", "Name": "name", "FilesAs": "files_as", "Category": "category",
	"SizeRange": "size_range", "Year": "year", "Barcode": "barcode", "Sizes": "size_chart", "Needs": "cloth_needed", "Pieces": "pieces",
}

// Takes lists the fields in which the pattern that goes can be believed rather
// than the one that is kept, in the order of the columns. Of tags and further
// categories those of both are kept anyway, and what a year was dated from goes
// with the year.
func Takes() []string {
	var out []string
	for _, f := range fields {
		for _, name := range fieldNames {
			if f.Name == name {
				out = append(out, name)
			}
		}
	}
	return out
}

// Said is what two patterns say in one field, and what they say together.
type Said struct {
	Field      string // its name, as in Fields
	Kept, Gone string // what the one kept and the one gone say
	Will       string // what the one kept is going to say
}

// InUnits says the same with what is measured on a body or on cloth in the owner's
// units, for who reads it; a field itself has plain millimetres.
func (x Said) InUnits(set Settings) Said {
	f, _ := FieldNamed(x.Field)
	for _, text := range []*string{&x.Kept, &x.Gone, &x.Will} {
		var en Entry
		switch {
		case f.Name != "size_chart" && f.Name != "cloth_needed" || f.Set(&en, *text) != nil:
		case len(en.Sizes) > 0:
			*text = sizesText(en.Sizes, set.Tape)
		case len(en.Needs) > 0:
			*text = join(en.Needs, func(n Need) []string {
				return []string{n.View, n.Size, cellOf(n.Width, set.Tape), cellOf(n.Length, set.Cloth), n.For}
			})
		}
	}
	return x
}

// Joint is what a merge comes to.
type Joint struct {
	Merged        // what goes over, and what is kept of both
	Said   []Said // field by field, where either says anything
}

// Look says what the merge would come to. It is made to find out, and nothing
// comes of that.
func (ch *Merge) Look(c *Collection) (Joint, error) {
	next, _, err := c.Apply(ch, "")
	if err != nil {
		return Joint{}, err
	}
	will := next.Pattern(ch.Keep)
	j := Joint{Merged: will.Merged[len(will.Merged)-1]}
	kept, gone, both := c.TitleOf(&j.Kept), c.TitleOf(&j.Gone), next.TitleOf(will)
	for _, f := range OfTitle() {
		s := Said{f.Name, f.Get(&kept), f.Get(&gone), f.Get(&both)}
		if s.Kept+s.Gone != "" {
			j.Said = append(j.Said, s)
		}
	}
	return j, nil
}

// Alike tells whether two entries are of one sleeve by all that tells designs apart:
// publisher, number, name, size range and year.
func Alike(a, b *Entry) bool {
	return nameKey(a.Publisher) == nameKey(b.Publisher) && nameKey(a.Number) == nameKey(b.Number) &&
		nameKey(a.Name) == nameKey(b.Name) && nameKey(a.SizeRange) == nameKey(b.SizeRange) && a.Year == b.Year
}

// OfTitle lists the fields that are the pattern's, and so the same for all its
// copies.
func OfTitle() []Field {
	var out []Field
	for _, name := range []string{"publisher", "number", "name", "files_as", "category", "also_in", "photocopied_in", "size_range", "year", "dated_by", "barcode", "tags", "size_chart", "cloth_needed", "pieces"} {
		if f, ok := FieldNamed(name); ok {
			out = append(out, f)
		}
	}
	return out
}
