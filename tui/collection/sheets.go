package collection

import (
	"slices"
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

// sheet is a form with what it is about, and the change that comes of it; no
// change for what only asks.
type sheet struct {
	name, title string
	fields      []form.Field
	values      []string
	change      func(value func(label string) string) (model.Change, error)
}

// fill opens a form, as it was left if it was.
func (s *Screen) fill(x *sheet) {
	if x == nil { // it is not there any more
		return
	}
	s.sheet, s.form = x, s.forms.Open(x.name, x.title, x.fields, x.values)
}

// save makes the change that the form comes to.
func (s *Screen) save() tea.Cmd {
	if s.saves != 0 {
		return nil
	}
	s.form.Settle()
	ch, err := s.sheet.change(s.form.Value)
	switch {
	case err != nil:
		s.Tell(frame.Complain{Err: err})
	case ch == nil:
		s.forms.Done(s.sheet.name)
		s.sheet = nil
		return s.forms.Keep(s.keeper)
	default:
		s.saves = s.write(ch)
	}
	return nil
}

// The labels of the fields.
const (
	haveLabel   = "have"
	ofLabel     = "group"
	eachLabel   = "each"
	batchLabel  = "batch"
	sourceLabel = "source"
	notesLabel  = "notes"
	aboutLabel  = "about"
	yearsLabel  = "years"
	growthLabel = "a year"
	fileLabel   = "shelf file"
	boxesLabel  = "boxes"
)

const eachHint = "what each copy is worth, like 12.50; 0 takes the group off"

// stockSheet is the form of what lies ready of a supply.
func (s *Screen) stockSheet(item model.StockItem) *sheet {
	have := ""
	for _, x := range s.desk.Collection().Stock() {
		if x.Item == item {
			have = strconv.Itoa(x.Have)
		}
	}
	return &sheet{"stock " + string(item), "Counted: " + string(item), []form.Field{
		{Label: haveLabel, Hint: "how many lie ready, like 60"},
	}, []string{have}, func(v func(string) string) (model.Change, error) {
		ch, err := model.ReadStock(item, v(haveLabel))
		if err != nil {
			return nil, err
		}
		return ch, nil
	}}
}

// paceSheet is the form of how many copies a year brings.
func (s *Screen) paceSheet() *sheet {
	perYear := ""
	if n := s.desk.Collection().PerYear(); n > 0 {
		perYear = strconv.Itoa(n)
	}
	return &sheet{"pace", "Growth", []form.Field{
		{Label: growthLabel, Hint: "copies that a year brings, like 40; nothing: it is counted by what comes after the first listing"},
	}, []string{perYear}, func(v func(string) string) (model.Change, error) {
		ch, err := model.ReadPerYear(v(growthLabel))
		if err != nil {
			return nil, err
		}
		return ch, nil
	}}
}

// worthSheet is the form of what the copies of a group are worth.
func (s *Screen) worthSheet(of, name string) *sheet {
	each := ""
	for _, g := range s.desk.Collection().Worth() {
		if g.Of == of {
			each = g.Each.String()
		}
	}
	return &sheet{"worth " + of, "Worth: " + name, []form.Field{{Label: eachLabel, Hint: eachHint}}, []string{each},
		func(v func(string) string) (model.Change, error) { return valued(of, v(eachLabel)) }}
}

// groupSheet is the form of a group that is not valued yet.
func (s *Screen) groupSheet() *sheet {
	names := func(typed string) []string { return slices.Concat(s.desk.Categories(typed), s.desk.Publishers(typed)) }
	return &sheet{"group", "Value a group of copies", []form.Field{
		{Label: ofLabel, Hint: "a tag, a category or a publisher; nothing: all others", Names: names},
		{Label: eachLabel, Hint: eachHint},
	}, []string{"", ""}, func(v func(string) string) (model.Change, error) { return valued(v(ofLabel), v(eachLabel)) }}
}

func valued(of, text string) (model.Change, error) {
	each, err := model.ParseMoney(text)
	if err != nil {
		return nil, err
	}
	return &model.SetWorth{Of: of, Each: each}, nil
}

// batchSheet is the form of where a batch came from; without a name, of one that
// is not there yet.
func (s *Screen) batchSheet(name string) *sheet {
	var source, notes, about string
	if b := s.desk.Collection().BatchNamed(name); b != nil {
		if source, notes = b.Source, b.Notes; b.Expected > 0 {
			about = strconv.Itoa(b.Expected)
		}
	}
	set := func(name string, v func(string) string) (model.Change, error) {
		about, err := model.ParseAbout(v(aboutLabel))
		if err != nil {
			return nil, err
		}
		return &model.SetBatch{Batch: name, Source: v(sourceLabel), Notes: v(notesLabel), About: &about}, nil
	}
	x := &sheet{"batch " + name, "Batch: " + name, []form.Field{
		{Label: sourceLabel, Hint: "from whom, or where it was bought"},
		{Label: notesLabel, Hint: "how it was kept: damp, mould, moth killer; what was done about it"},
		{Label: aboutLabel, Hint: "how many copies it will be, a guess, like 120; nothing: nobody knows"},
	}, []string{source, notes, about}, func(v func(string) string) (model.Change, error) { return set(name, v) }}
	if name != "" {
		return x
	}
	x.title = "A batch that is not unpacked yet"
	x.fields = append([]form.Field{{Label: batchLabel, Hint: "what you call the drawer or parcel"}}, x.fields...)
	x.values = append([]string{""}, x.values...)
	x.change = func(v func(string) string) (model.Change, error) {
		if b := s.desk.Collection().BatchNamed(v(batchLabel)); b != nil {
			return nil, model.Inputf("the batch %q is there already; leave this with esc and change it in the list", b.Name)
		}
		return set(v(batchLabel), v)
	}
	return x
}
