package shelf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// kind is a kind of furniture.
type kind int

const (
	theSettings kind = iota
	aBox
	aSection
	aPublisher
	aBinder
	aHook
	kinds
)

var kindNames = [kinds]string{"settings", "box", "section", "publisher", "binder", "hooks"}

// piece is a line of the list: one of its kind, or with -1 the place of a
// first one. The settings are 0.
type piece struct {
	kind kind
	i    int
}

func (d *draft) count(k kind) int {
	return [kinds]int{1, len(d.spec.Boxes), len(d.spec.Sections), len(d.spec.Publishers), len(d.spec.Binders), len(d.spec.Hooks)}[k]
}

// pieces lists all there is, kind by kind.
func (d *draft) pieces() []piece {
	var out []piece
	for k := range kinds {
		n := d.count(k)
		for i := range n {
			out = append(out, piece{k, i})
		}
		if n == 0 {
			out = append(out, piece{k, -1})
		}
	}
	return out
}

func (d *draft) remove(p piece) {
	s := &d.spec
	switch p.kind {
	case aBox:
		s.Boxes = slices.Delete(slices.Clone(s.Boxes), p.i, p.i+1)
	case aSection:
		s.Sections = slices.Delete(slices.Clone(s.Sections), p.i, p.i+1)
	case aPublisher:
		s.Publishers = slices.Delete(slices.Clone(s.Publishers), p.i, p.i+1)
	case aBinder:
		s.Binders = slices.Delete(slices.Clone(s.Binders), p.i, p.i+1)
	case aHook:
		s.Hooks = slices.Delete(slices.Clone(s.Hooks), p.i, p.i+1)
	}
}

// move changes places with the one before or after of the same kind.
func (d *draft) move(p piece, step int) bool {
	to := p.i + step
	if p.kind == theSettings || p.i < 0 || to < 0 || to >= d.count(p.kind) {
		return false
	}
	spec := d.copied()
	switch p.kind {
	case aBox:
		spec.Boxes[p.i], spec.Boxes[to] = spec.Boxes[to], spec.Boxes[p.i]
	case aSection:
		spec.Sections[p.i], spec.Sections[to] = spec.Sections[to], spec.Sections[p.i]
	case aPublisher:
		spec.Publishers[p.i], spec.Publishers[to] = spec.Publishers[to], spec.Publishers[p.i]
	case aBinder:
		spec.Binders[p.i], spec.Binders[to] = spec.Binders[to], spec.Binders[p.i]
	case aHook:
		spec.Hooks[p.i], spec.Hooks[to] = spec.Hooks[to], spec.Hooks[p.i]
	}
	d.spec = spec
	return true
}

// listed joins and parts names; publishers may have commas in theirs.
const listed = "; "

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func space(w model.Space) string {
	if w.Fixed != 0 {
		return w.Fixed.String()
	}
	return strconv.FormatFloat(w.Percent, 'f', -1, 64) + " %"
}

// The fields that are yes or no.
const (
	lockedLabel = "locked"
	newBoxLabel = "begins a box"
)

// fieldLabels name the fields, in the order of values and put.
var fieldLabels = [kinds][]string{
	{"units", "envelope", "working space", "uncut", "cut", "bulky", "card", "range card every", "publisher card from"},
	{"name", "length", "place", lockedLabel},
	{"title", "publishers", "tags", newBoxLabel},
	{"name", "files as", "numbers"},
	{"category", "pockets"},
	{"name", "hooks", "each holds"},
}

// values are what a form begins with.
func (d *draft) values(p piece, isNew bool) (labels, values []string) {
	s, at := &d.spec, fieldLabels[p.kind]
	if isNew {
		values = make([]string, len(at))
		if n := len(s.Boxes); p.kind == aBox && n > 0 {
			values[1] = s.Boxes[n-1].Length.String() // as long as the last one, most likely
		}
		if p.kind == aBox || p.kind == aSection {
			values[3] = yes(false)
		}
		return at, values
	}
	switch p.kind {
	case theSettings:
		x := s.Settings
		return at, []string{x.Units, x.Envelope, space(x.Working), x.Thickness.Uncut.String(), x.Thickness.Cut.String(), x.Thickness.Bulky.String(),
			x.Divider.String(), num(x.RangeCardEvery), num(x.PublisherCardFrom)}
	case aBox:
		x := s.Boxes[p.i]
		return at, []string{x.Name, x.Length.String(), x.Place, yes(x.Locked)}
	case aSection:
		x := s.Sections[p.i]
		return at, []string{x.Title, strings.Join(x.Publishers, listed), strings.Join(x.Tags, listed), yes(x.NewBox)}
	case aPublisher:
		x := s.Publishers[p.i]
		return at, []string{x.Name, x.FilesAs, string(x.Numbers)}
	case aBinder:
		x := s.Binders[p.i]
		return at, []string{x.Category, num(x.Pockets)}
	}
	x := s.Hooks[p.i]
	return at, []string{x.Name, num(x.Hooks), num(x.Each)}
}

// parsing reads fields and keeps the first error.
type parsing struct {
	labels, texts []string
	err           error
}

func (p *parsing) fail(i int, err error) {
	if err != nil && p.err == nil {
		p.err = model.Inputf("%s: %v", p.labels[i], err)
	}
}

func (p *parsing) length(i int) model.Length {
	l, err := model.ParseLength(p.texts[i])
	p.fail(i, err)
	return l
}

func (p *parsing) count(i int) int {
	n, err := strconv.Atoi(p.texts[i])
	if err != nil || n < 0 {
		p.fail(i, fmt.Errorf("%q is not a count; write a whole number, like \"10\"", p.texts[i]))
	}
	return n
}

func (p *parsing) names(i int) []string {
	var out []string
	for name := range strings.SplitSeq(p.texts[i], strings.TrimSpace(listed)) {
		if name = words.Clean(name); name != "" {
			out = append(out, name)
		}
	}
	return out
}

func (p *parsing) space(i int) model.Space {
	rest, percent := strings.CutSuffix(p.texts[i], "%")
	if !percent {
		return model.Space{Fixed: p.length(i)}
	}
	f, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(rest), ",", ".", 1), 64)
	if err != nil || !(f >= 0 && f < 100) {
		p.fail(i, fmt.Errorf("%q is not a share of the box; write it like \"15 %%\", or a length like \"60 mm\"", p.texts[i]))
	}
	return model.Space{Percent: f}
}

// put takes the fields of a form over, and says which of its kind it is now.
func (d *draft) put(at piece, isNew bool, texts []string) (int, error) {
	p, spec := &parsing{labels: fieldLabels[at.kind], texts: texts}, d.copied()
	i := at.i
	if isNew {
		i++
	}
	switch at.kind {
	case theSettings:
		spec.Settings.Units, spec.Settings.Envelope, spec.Settings.Working = texts[0], texts[1], p.space(2)
		spec.Settings.Thickness = model.Thickness{Uncut: p.length(3), Cut: p.length(4), Bulky: p.length(5)}
		spec.Settings.Divider, spec.Settings.RangeCardEvery, spec.Settings.PublisherCardFrom = p.length(6), p.count(7), p.count(8)
	case aBox:
		spec.Boxes = placed(spec.Boxes, i, isNew, model.BoxSpec{Name: texts[0], Length: p.length(1), Place: texts[2], Locked: texts[3] == yes(true)})
	case aSection:
		spec.Sections = placed(spec.Sections, i, isNew, model.SectionSpec{Title: texts[0], Publishers: p.names(1), Tags: p.names(2), NewBox: texts[3] == yes(true)})
	case aPublisher:
		scheme, err := model.ParseScheme(texts[2])
		p.fail(2, err)
		spec.Publishers = placed(spec.Publishers, i, isNew, model.PublisherSpec{Name: texts[0], FilesAs: texts[1], Numbers: scheme})
	case aBinder:
		spec.Binders = placed(spec.Binders, i, isNew, model.BinderSpec{Category: texts[0], Pockets: p.count(1)})
	case aHook:
		spec.Hooks = placed(spec.Hooks, i, isNew, model.HookSpec{Name: texts[0], Hooks: p.count(1), Each: p.count(2)})
	}
	if p.err != nil {
		return 0, p.err
	}
	d.spec = spec
	return i, nil
}

// placed puts one in at i, or in the place of what is there.
func placed[T any](all []T, i int, isNew bool, x T) []T {
	if isNew {
		return slices.Insert(all, i, x)
	}
	all[i] = x
	return all
}
