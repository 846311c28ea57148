package model

import "fmt"

// TakeMeasure records a box pressed together and measured. What was in the box
// is counted by who makes the change; its number and day are given here.
type TakeMeasure struct {
	Measure Measure `json:"measure"`
}

// Title implements Change.
func (ch *TakeMeasure) Title(*Collection) string {
	return "measured box " + ch.Measure.Box + ": " + ch.Measure.Measured.String()
}

func (ch *TakeMeasure) apply(e *editor) error {
	m := ch.Measure
	b, err := e.c.shelf.BoxNamed(m.Box)
	if err != nil {
		return err
	}
	if what := m.fault(); what != "" {
		return Inputf("the measurement of box %q cannot be used: %s; press the envelopes together and measure them in millimetres", b.Name, what)
	}
	if m.Measured > b.Length {
		return Inputf("%s measured is more than box %q is long inside, %s; measure again, or mend the length with: tuckrow shelf apply FILE", m.Measured, b.Name, b.Length)
	}
	if m.On == "" {
		m.On = e.at
	}
	if _, err := ParseDate("on", string(m.On)); err != nil {
		return err
	}
	m.ID, m.Box = e.c.counters.Measure+1, b.Name
	e.put(&m)
	return nil
}

// DropMeasure takes back a measurement that was wrong.
type DropMeasure struct {
	ID MeasureID `json:"id"`
}

// Title implements Change.
func (ch *DropMeasure) Title(*Collection) string { return fmt.Sprintf("dropped measurement %d", ch.ID) }

func (ch *DropMeasure) apply(e *editor) error {
	if e.c.measures.Get(uint32(ch.ID)) == nil {
		return Inputf("there is no measurement %d; tuckrow measure lists them", ch.ID)
	}
	e.drop(KindMeasure, uint32(ch.ID))
	return nil
}

// Adopt makes thicknesses by state those that plans go by, and alters nothing
// else.
type Adopt struct {
	Thickness Thickness `json:"thickness"`
}

// Title implements Change.
func (ch *Adopt) Title(*Collection) string {
	t := ch.Thickness
	return fmt.Sprintf("set thicknesses to uncut %s, cut %s, bulky %s", t.Uncut, t.Cut, t.Bulky)
}

func (ch *Adopt) apply(e *editor) error {
	s := *e.c.shelf
	s.Settings.Thickness = ch.Thickness
	if err := s.Settings.check(); err != nil {
		return err
	}
	e.put(&s)
	return nil
}

// Took is how long a refiling took, told with the change that records it.
type Took struct {
	Pulled   int `json:"pulled"`
	Inserted int `json:"inserted"`
	Seconds  int `json:"seconds"`
}

// pace keeps how long a refiling took.
func (e *editor) pace(t *Took) error {
	if t == nil {
		return nil
	}
	p := &Pace{e.c.counters.Pace + 1, e.at, t.Pulled, t.Inserted, t.Seconds}
	if what := p.fault(); what != "" {
		return Inputf("%d seconds for %d pulled and %d put in cannot be kept as a pace: %s; give the minutes it took", t.Seconds, t.Pulled, t.Inserted, what)
	}
	e.put(p)
	return nil
}

// back notes that copies are back that were out.
func (e *editor) back(copies []Accession) error {
	for _, a := range copies {
		old, err := e.copyOrErr(a)
		if err != nil {
			return err
		}
		if old.Out == nil {
			continue
		}
		cp := *old
		cp.Out = nil
		e.put(&cp)
	}
	return nil
}
