package model

// Fill makes an empty cupboard hold a whole one, as an export has it, with its
// counters. It is not written down as other changes are: what it holds is written
// down by its records.
type Fill struct {
	Whole *Collection `json:"-"`
	From  string      `json:"from"` // the file it came from
}

// Title implements Change.
func (ch *Fill) Title(*Collection) string { return "imported the cupboard from " + ch.From }

func (ch *Fill) apply(e *editor) error {
	if e.c.counters != (Counters{}) {
		return Inputf("something was entered here already; a whole cupboard goes into an empty one")
	}
	whole, err := Build(e.c.rev, ch.Whole.counters, ch.Whole.Records())
	if err != nil {
		return err
	}
	e.expect(2 * whole.copies.Len())
	for r := range whole.Records() {
		e.put(r)
	}
	e.c.counters = whole.counters
	return nil
}
