package same

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/sleeve"
)

// thing is a copy, something made, or what waits to be sewn, which can go to the
// other design.
type thing struct {
	name, says string
	copy       model.Accession // 0: none
	made       model.MakeID    // 0: none
}

// things lists what there is of the record: the copies, what was made, and whether
// it waits to be sewn.
func (s *Sheet) things() (out []thing) {
	c, dot := s.desk.Collection(), " "+s.theme.Glyphs.Dot+" "
	for _, a := range s.desk.Index.Copies(s.of) {
		out = append(out, thing{name: copyName(a), says: s.copyText(a), copy: a})
	}
	for _, m := range c.Makes().All() {
		if m.Pattern == s.of {
			out = append(out, thing{name: fmt.Sprintf("made %d", m.ID), says: s.theme.Dots(string(m.On), sleeve.Make(m, dot)), made: m.ID})
		}
	}
	for i, q := range c.Queue() {
		if q.Pattern == s.of {
			out = append(out, thing{name: "to sew", says: sleeve.Queued(&c.Queue()[i], dot)})
		}
	}
	return out
}

func (s *Sheet) onPartKey(msg tea.KeyMsg) {
	k, all := s.keys, s.things()
	at := &s.at[parting]
	switch {
	case key.Matches(msg, k.leave):
		s.stage = choosing
	case key.Matches(msg, k.goes):
		s.going[all[*at].name] = !s.going[all[*at].name]
	case key.Matches(msg, k.differs):
		s.toSay()
	default:
		*at = max(0, min(*at+s.step(msg, len(all)), len(all)-1))
	}
}

// split is what the choice comes to.
func (s *Sheet) split() *model.SplitPattern {
	ch := &model.SplitPattern{}
	for _, x := range s.things() {
		switch {
		case !s.going[x.name]:
		case x.copy != 0:
			ch.Copies = append(ch.Copies, x.copy)
		case x.made != 0:
			ch.Makes = append(ch.Makes, x.made)
		default:
			ch.Queued = true
		}
	}
	return ch
}

// toSay goes on to what the sleeve of the other design says.
func (s *Sheet) toSay() {
	c := s.desk.Collection()
	switch n := len(s.split().Copies); {
	case n == 0:
		s.host.Tell(frame.Complain{Err: model.Inputf("no copy goes to the other design yet; press space on one")})
		return
	case n == len(s.desk.Index.Copies(s.of)):
		s.host.Tell(frame.Complain{Err: model.Inputf("all copies would go to the other design; leave at least one with %s", c.Called(s.of))})
		return
	}
	en, bears := c.OtherDesign(s.of), c.Pattern(s.of).Barcode
	var fields []form.Field
	var values []string
	for _, f := range model.OfTitle() {
		x := form.Field{Label: plain(f.Name), Hint: f.Help}
		switch f.Name {
		case "publisher":
			x.Names = s.desk.Publishers
		case "category":
			x.Names = s.desk.Categories
		case "also_in":
			x.Names, x.Parted = s.desk.Categories, true
		}
		if f.Name == "barcode" && bears != "" {
			x.Hint = "the other sleeve bears " + bears + "; scan or type it where this one does too"
		}
		fields, values = append(fields, x), append(values, f.Typed(&en))
	}
	s.stage = saying
	s.form = s.host.Forms.Open(s.formName(), "What the sleeve of the other design says", fields, values)
}

// plain is the name of a field as one reads it.
func plain(field string) string { return strings.ReplaceAll(field, "_", " ") }

// formName is by what the form is kept.
func (s *Sheet) formName() string { return fmt.Sprintf("part %d", s.of) }

func (s *Sheet) onSayKey(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, s.keys.leave):
		s.stage = parting
	case key.Matches(msg, s.keys.split):
		s.form.Settle()
		ch := s.split()
		c := s.desk.Collection()
		en := c.TitleOf(c.Pattern(s.of))
		for _, f := range model.OfTitle() {
			if err := f.Type(&en, s.form.Value(plain(f.Name))); err != nil {
				s.form.To(plain(f.Name))
				s.host.Tell(frame.Complain{Err: err})
				return nil
			}
		}
		ch.Says = &en
		if err := ch.Differs(c, s.of); err != nil {
			s.form.To("number")
			s.host.Tell(frame.Complain{Err: err})
			return nil
		}
		if !s.asksPublisher(en.Publisher) {
			s.make(ch)
		}
	default:
		return s.form.Update(msg)
	}
	return nil
}

// asksPublisher asks, once, whether a publisher that is not listed is a new one: a
// slip of a finger would make another of it, with a run of its own.
func (s *Sheet) asksPublisher(name string) bool {
	if s.desk.Collection().PublisherNamed(name) != nil || s.asked == name {
		return false
	}
	s.asked = name
	s.form.To("publisher")
	s.host.Tell(frame.Say{Text: fmt.Sprintf("%q would be a new publisher: mend it, or enter takes it", name)})
	return true
}
