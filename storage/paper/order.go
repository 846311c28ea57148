package paper

import (
	"cmp"
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Kind is something that can be printed, by the name that the commands use.
type Kind string

// The kinds.
const (
	EnvelopesKind Kind = "envelopes"
	DividersKind  Kind = "dividers"
	BoxesKind     Kind = "boxes"
	BindersKind   Kind = "binders"
	OutCardsKind  Kind = "outcards"
	DummiesKind   Kind = "dummies"
	CarryKind     Kind = "carry"
	ShelfListKind Kind = "shelflist"
	PackingKind   Kind = "packing"
	InsuranceKind Kind = "insurance"
	WalkKind      Kind = "walk"
)

// Kinds lists the kinds, what is stuck on first.
func Kinds() []Kind {
	return []Kind{EnvelopesKind, DividersKind, BoxesKind, BindersKind, OutCardsKind, DummiesKind, CarryKind, ShelfListKind, PackingKind, InsuranceKind, WalkKind}
}

// Order is what is to be printed, in the words of who wants it. What is left
// empty is as the shelf has it preset; what a kind does not know is not heeded.
type Order struct {
	Kind Kind

	// For envelope labels.
	Labels     string // a label sheet by its name
	Start      int    // the first label that is left on it, from 1; 0 is 1
	On         string // straight on envelopes of this size instead
	Code       string
	Outline    bool
	Box, Batch string // only what stands in this box, came in with this batch
	Copies     []int  // only these accession numbers

	// For divider cards, out cards and dummies.
	Envelope       string
	Upright, Alone bool

	// For binders.
	Binders BinderOptions
}

// Work makes what is ordered. The error says what is not known, or that there
// is nothing of the kind to print.
func (o Order) Work(src Source) (*Work, error) {
	switch o.Kind {
	case EnvelopesKind:
		return o.envelopes(src)
	case DividersKind:
		c, err := o.cards(src)
		if err != nil {
			return nil, err
		}
		return Dividers(src, src.Layout.Target(), c)
	case BoxesKind:
		return BoxLabels(src, src.Layout.Target())
	case BindersKind:
		b := o.Binders
		b.Tabs = slices.Clone(b.Tabs)
		for i, text := range b.Tabs {
			b.Tabs[i] = words.Clean(text)
		}
		return Binders(src, b)
	case OutCardsKind:
		c, err := o.cards(src)
		if err != nil {
			return nil, err
		}
		return OutCards(src, c)
	case DummiesKind:
		c, err := o.cards(src)
		if err != nil {
			return nil, err
		}
		return Dummies(src, c)
	}
	lists := map[Kind]func(Source) (*Work, error){CarryKind: Carry, ShelfListKind: ShelfList, PackingKind: Packing, InsuranceKind: Insurance, WalkKind: Walk}
	if list := lists[o.Kind]; list != nil {
		return list(src)
	}
	return nil, model.Inputf("%q cannot be printed; there is %q", o.Kind, Kinds())
}

func (o Order) cards(src Source) (CardOptions, error) {
	e, err := model.EnvelopeNamed(cmp.Or(o.Envelope, src.collection().Shelf().Settings.Envelope))
	return CardOptions{Envelope: e, Upright: o.Upright, Alone: o.Alone}, err
}

func (o Order) envelopes(src Source) (*Work, error) {
	shelf := src.collection().Shelf()
	preset := shelf.Settings.Printing.Full()
	copies, err := o.copies(src)
	if err != nil {
		return nil, err
	}
	e := EnvelopeOptions{Start: o.Start, Outline: o.Outline}
	if e.Code, err = model.ParseCode(cmp.Or(o.Code, preset.Code)); err != nil {
		return nil, err
	}
	if e.Labels, err = shelf.LabelSheetNamed(cmp.Or(o.Labels, preset.Labels)); err != nil {
		return nil, err
	}
	if o.On != "" {
		on, err := model.EnvelopeNamed(o.On)
		if err != nil {
			return nil, err
		}
		e.On = &on
	}
	return Envelopes(src, copies, e)
}

// copies are those that get an envelope label, in filing order.
func (o Order) copies(src Source) ([]model.Accession, error) {
	c := src.collection()
	keep := func(*model.Copy) bool { return true }
	if o.Box != "" {
		b, err := c.Shelf().BoxNamed(o.Box)
		if err != nil {
			return nil, err
		}
		keep = func(cp *model.Copy) bool { at, _ := c.Standing(cp.Accession); return at.Box == b.ID }
	}
	batch := model.BatchID(0)
	if o.Batch != "" {
		b := c.BatchNamed(o.Batch)
		if b == nil {
			return nil, model.Inputf("there is no batch %q", o.Batch)
		}
		batch = b.ID
	}
	for _, n := range o.Copies {
		if c.Copy(model.Accession(n)) == nil {
			return nil, model.Inputf("there is no copy %d; look it up with: tuckrow find WORDS", n)
		}
	}
	var out []model.Accession
	for _, it := range src.Layout.Row() {
		cp := c.Copy(it.Copy)
		if c.Shelf().LiesApart(cp) {
			continue // a dummy stands for it
		}
		named := len(o.Copies) == 0 || slices.Contains(o.Copies, int(it.Copy))
		if named && keep(cp) && (batch == 0 || cp.Batch == batch) {
			out = append(out, it.Copy)
		}
	}
	return out, nil
}
