package model

// Accession numbers copies in the order in which they arrived. A number is
// never given twice, not even after an undo.
type Accession uint32

// The numbers by which records know each other.
type (
	PublisherID uint32
	CategoryID  uint32
	PatternID   uint32
	BatchID     uint32
	BoxID       uint32
	SectionID   uint32
	BinderID    uint32
	HookRowID   uint32
)

// Date is a day as ISO 8601 writes it, "2026-11-25", or empty when unknown.
type Date string

// Publisher is who issued a pattern. Home-drafted patterns have one too: the
// drafter.
type Publisher struct {
	ID      PublisherID `json:"id" cbor:"1,keyasint"`
	Name    string      `json:"name" cbor:"2,keyasint"`
	FilesAs string      `json:"files_as,omitempty" cbor:"3,keyasint,omitempty"`
	Numbers Scheme      `json:"numbers,omitempty" cbor:"4,keyasint,omitempty"`
	// Spellings are other names that stand for it, from publishers merged into it.
	Spellings []string `json:"spellings,omitempty" cbor:"5,keyasint,omitempty"`
}

// Filing is the spelling by which the publisher is filed.
func (p *Publisher) Filing() string {
	if p.FilesAs != "" {
		return p.FilesAs
	}
	return p.Name
}

// Category is a garment category, the owner's own, one or more binders each.
type Category struct {
	ID   CategoryID `json:"id" cbor:"1,keyasint"`
	Name string     `json:"name" cbor:"2,keyasint"`
}

// Batch is what came in together: one drawer, one parcel, one file.
type Batch struct {
	ID    BatchID `json:"id" cbor:"1,keyasint"`
	Name  string  `json:"name" cbor:"2,keyasint"`
	Begun Date    `json:"begun,omitempty" cbor:"3,keyasint,omitempty"`
	// Expected is about how many copies lie in it, as the owner guessed; 0: not
	// known.
	Expected int    `json:"expected,omitempty" cbor:"4,keyasint,omitempty"`
	Source   string `json:"source,omitempty" cbor:"5,keyasint,omitempty"` // from whom or where it came
	Notes    string `json:"notes,omitempty" cbor:"6,keyasint,omitempty"`
}

// Pattern is a title: what a publisher issued under a number, or a name, in
// one size range.
type Pattern struct {
	ID        PatternID    `json:"id" cbor:"1,keyasint"`
	Publisher PublisherID  `json:"publisher" cbor:"2,keyasint"`
	Number    string       `json:"number,omitempty" cbor:"3,keyasint,omitempty"` // as printed
	Name      string       `json:"name,omitempty" cbor:"4,keyasint,omitempty"`
	FilesAs   string       `json:"files_as,omitempty" cbor:"5,keyasint,omitempty"`
	Category  CategoryID   `json:"category,omitempty" cbor:"6,keyasint,omitempty"`
	SizeRange string       `json:"size_range,omitempty" cbor:"7,keyasint,omitempty"`
	Year      int          `json:"year,omitempty" cbor:"8,keyasint,omitempty"` // 0: not known
	DatedBy   string       `json:"dated_by,omitempty" cbor:"9,keyasint,omitempty"`
	Barcode   string       `json:"barcode,omitempty" cbor:"10,keyasint,omitempty"`
	Tags      []string     `json:"tags,omitempty" cbor:"11,keyasint,omitempty"`
	Sizes     []Size       `json:"sizes,omitempty" cbor:"12,keyasint,omitempty"`          // the sleeve's own chart
	Needs     []Need       `json:"needs,omitempty" cbor:"13,keyasint,omitempty"`          // cloth that the sleeve asks for
	Links     []Link       `json:"links,omitempty" cbor:"14,keyasint,omitempty"`          // each also in the pattern that it leads to
	Pieces    []string     `json:"pieces,omitempty" cbor:"16,keyasint,omitempty"`         // as the guide sheet lists them
	Merged    []Merged     `json:"merged,omitempty" cbor:"15,keyasint,omitempty"`         // what was merged into it, the last last
	Also      []CategoryID `json:"also_in,omitempty" cbor:"17,keyasint,omitempty"`        // further categories, where its sleeve has a see-also entry
	Copied    []CategoryID `json:"photocopied_in,omitempty" cbor:"18,keyasint,omitempty"` // those of Also whose binder has a photocopy of the sleeve, in a pocket of its own
}

// Filing is the spelling by which the pattern's name is filed.
func (p *Pattern) Filing() string {
	if p.FilesAs != "" {
		return p.FilesAs
	}
	return p.Name
}

// Heading names the pattern as one reads it off the sleeve: number and name.
func (p *Pattern) Heading() string {
	switch {
	case p.Number == "":
		return p.Name
	case p.Name == "":
		return p.Number
	}
	return p.Number + " " + p.Name
}

// Short is the number, or the name of a pattern that has none.
func (p *Pattern) Short() string {
	if p.Number != "" {
		return p.Number
	}
	return p.Name
}

// Copy is one physical thing: the tissue and guide sheet of a pattern, in an
// envelope or on a hook.
type Copy struct {
	Accession Accession `json:"accession" cbor:"1,keyasint"`
	Pattern   PatternID `json:"pattern" cbor:"2,keyasint"`
	Batch     BatchID   `json:"batch,omitempty" cbor:"3,keyasint,omitempty"`
	Added     Date      `json:"added,omitempty" cbor:"4,keyasint,omitempty"`
	Medium    Medium    `json:"medium,omitempty" cbor:"5,keyasint,omitempty"`
	Cut       Cut       `json:"cut,omitempty" cbor:"6,keyasint,omitempty"`
	Complete  string    `json:"complete,omitempty" cbor:"7,keyasint,omitempty"` // "yes", or what is missing; empty: not checked
	Bulky     bool      `json:"bulky,omitempty" cbor:"8,keyasint,omitempty"`
	Thickness Length    `json:"thickness_mm,omitempty" cbor:"9,keyasint,omitempty"` // as measured; 0: by state
	Home      Home      `json:"home,omitempty" cbor:"10,keyasint,omitempty"`
	Sleeve    Sleeve    `json:"sleeve,omitempty" cbor:"11,keyasint,omitempty"`
	Enveloped bool      `json:"envelope,omitempty" cbor:"12,keyasint,omitempty"`
	Grouped   bool      `json:"grouped,omitempty" cbor:"13,keyasint,omitempty"`
	Hook      Hook      `json:"hook,omitzero" cbor:"14,keyasint,omitzero"`
	Out       *Out      `json:"out,omitempty" cbor:"15,keyasint,omitempty"`
	Notes     string    `json:"notes,omitempty" cbor:"16,keyasint,omitempty"`
	Left      string    `json:"sizes_left,omitempty" cbor:"17,keyasint,omitempty"` // after cutting: "10-12"; empty: not known, or all
	Print     Print     `json:"print,omitzero" cbor:"18,keyasint,omitzero"`        // of what was printed at home
	Value     Money     `json:"value,omitempty" cbor:"19,keyasint,omitempty"`      // to an insurer; 0: by its group
	Pieces    *Pieces   `json:"pieces,omitempty" cbor:"20,keyasint,omitempty"`     // gone through piece by piece; nil: not yet
	// Missing is the day on which it was looked for and not found. It has no place
	// until it turns up.
	Missing Date `json:"missing,omitempty" cbor:"21,keyasint,omitempty"`
}

// Hook is a place on a hook row; the zero value is no hook.
type Hook struct {
	Row HookRowID `json:"row" cbor:"1,keyasint"`
	N   int       `json:"n" cbor:"2,keyasint"` // 1 is the first hook
}

// Out says who has a copy that is not at its place. Its slot is kept for it:
// an out card stands there.
type Out struct {
	Since Date   `json:"since" cbor:"1,keyasint"`
	To    string `json:"to,omitempty" cbor:"2,keyasint,omitempty"`
	For   string `json:"for,omitempty" cbor:"3,keyasint,omitempty"`
	Due   Date   `json:"due,omitempty" cbor:"4,keyasint,omitempty"` // to be back by then; empty: not agreed
}

// Overdue tells whether it should have been back before a day.
func (o *Out) Overdue(on Date) bool { return o.Due != "" && o.Due < on }

// AtHand tells whether a copy is neither out nor missing.
func (c *Copy) AtHand() bool { return c.Out == nil && c.Missing == "" }

// Row is what stands in one box now, front to back, as recorded.
type Row struct {
	Box    BoxID       `json:"box" cbor:"1,keyasint"`
	Copies []Accession `json:"copies" cbor:"2,keyasint"`
	// Counted is the day on which somebody last went through the box from front to
	// back; empty: never.
	Counted Date `json:"counted,omitempty" cbor:"3,keyasint,omitempty"`
}

// Walls is a split that the owner has decided on: which copy is to be the
// first in each box. It holds until the refiling has been done.
type Walls struct {
	Firsts []Wall `json:"firsts,omitempty" cbor:"1,keyasint,omitempty"`
}

// Wall says that a box begins at a copy.
type Wall struct {
	Box   BoxID     `json:"box" cbor:"1,keyasint"`
	First Accession `json:"first" cbor:"2,keyasint"`
}
