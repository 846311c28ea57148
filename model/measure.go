package model

// State is how a copy lies in its envelope, as far as its thickness goes.
type State int

// The states.
const (
	StateUncut State = iota // as folded in the factory
	StateCut                // cut, refolded or traced
	StateBulky              // a coat, or several garments
	States                  // how many there are
)

var stateNames = [States]string{"uncut", "cut", "bulky"}

// String is the state's name as it stands in reports and in the shelf file.
func (s State) String() string { return stateNames[s] }

// StateOf tells the state of a copy.
func StateOf(c *Copy) State {
	switch {
	case c.Bulky:
		return StateBulky
	case c.Cut == FullyCut || c.Cut == PartlyCut || c.Medium == Traced || c.Medium == Drafted:
		return StateCut
	}
	return StateUncut
}

// Of is the thickness of a copy in a state.
func (t Thickness) Of(s State) Length { return [States]Length{t.Uncut, t.Cut, t.Bulky}[s] }

// ThicknessBy makes a Thickness of one for each state.
func ThicknessBy(by [States]Length) Thickness {
	return Thickness{by[StateUncut], by[StateCut], by[StateBulky]}
}

// MeasureID numbers measurements.
type MeasureID uint32

// Measure is a box pressed together and measured. It says for itself what was
// in the box, so that it stays true when the box is filled otherwise or gone.
type Measure struct {
	ID       MeasureID `json:"id" cbor:"1,keyasint"`
	On       Date      `json:"on,omitempty" cbor:"2,keyasint,omitempty"`
	Box      string    `json:"box" cbor:"3,keyasint"` // its name then
	Uncut    int       `json:"uncut" cbor:"4,keyasint"`
	Cut      int       `json:"cut" cbor:"5,keyasint"`
	Bulky    int       `json:"bulky" cbor:"6,keyasint"`
	Own      int       `json:"own,omitempty" cbor:"7,keyasint,omitempty"`    // copies measured on their own
	OwnTaken Length    `json:"own_mm,omitempty" cbor:"8,keyasint,omitempty"` // what those take together
	Cards    int       `json:"cards" cbor:"9,keyasint"`
	Card     Length    `json:"card_mm" cbor:"10,keyasint"` // one of them
	Measured Length    `json:"measured_mm" cbor:"11,keyasint"`
}

// Key implements Record.
func (m *Measure) Key() (Kind, uint32) { return KindMeasure, uint32(m.ID) }

// Counts gives how many copies of each state were in the box, without those
// measured on their own.
func (m *Measure) Counts() [States]int { return [States]int{m.Uncut, m.Cut, m.Bulky} }

// Known is what was in the box besides: cards, and copies measured on their
// own.
func (m *Measure) Known() Length { return m.OwnTaken + Length(m.Cards)*m.Card }

// Estimate is how long the contents of the box would be by these thicknesses.
func (m *Measure) Estimate(t Thickness) Length {
	sum := m.Known()
	for s, n := range m.Counts() {
		sum += Length(n) * t.Of(State(s))
	}
	return sum
}

// mostCounted is far above what stands in a box, and keeps sums far from
// overflow.
const mostCounted = 100_000

// fault says what of a measurement cannot be; empty when all can.
func (m *Measure) fault() string {
	fits := func(n int) bool { return n >= 0 && n <= mostCounted }
	switch {
	case !fits(m.Uncut), !fits(m.Cut), !fits(m.Bulky), !fits(m.Own), !fits(m.Cards):
		return "a count is below 0 or too high"
	case m.Uncut+m.Cut+m.Bulky+m.Own == 0:
		return "there was nothing in the box"
	case m.Measured <= 0 || !sane(m.Measured.MM()):
		return "the length measured is no length"
	case m.Card < 0 || !sane(m.Card.MM()), m.OwnTaken < 0 || !sane(m.OwnTaken.MM()):
		return "the thickness of cards or of copies measured on their own is none"
	}
	return ""
}

// PaceID numbers paces.
type PaceID uint32

// Pace is how long a refiling took.
type Pace struct {
	ID       PaceID `json:"id" cbor:"1,keyasint"`
	On       Date   `json:"on,omitempty" cbor:"2,keyasint,omitempty"`
	Pulled   int    `json:"pulled" cbor:"3,keyasint"`
	Inserted int    `json:"inserted" cbor:"4,keyasint"`
	Seconds  int    `json:"seconds" cbor:"5,keyasint"`
}

// Key implements Record.
func (p *Pace) Key() (Kind, uint32) { return KindPace, uint32(p.ID) }

// mostSeconds is a month: nobody refiles for longer in one go.
const mostSeconds = 31 * 24 * 3600

func (p *Pace) fault() string {
	fits := func(n int) bool { return n >= 0 && n <= highest }
	switch {
	case !fits(p.Pulled), !fits(p.Inserted), p.Pulled+p.Inserted == 0:
		return "nothing was pulled or put in"
	case p.Seconds < 1 || p.Seconds > mostSeconds:
		return "the time is none"
	}
	return ""
}

// Measures gives the measurements, in the order in which they were made.
func (c *Collection) Measures() *Table[Measure] { return &c.measures }

// Paces gives how long refilings took, in the order in which they were done.
func (c *Collection) Paces() *Table[Pace] { return &c.paces }

func (c *Collection) checkMeasures() error {
	for _, m := range c.measures.All() {
		if what := m.fault(); what != "" {
			return broken("measurement %d cannot be: %s", m.ID, what)
		}
	}
	for _, p := range c.paces.All() {
		if what := p.fault(); what != "" {
			return broken("pace %d cannot be: %s", p.ID, what)
		}
	}
	return nil
}
