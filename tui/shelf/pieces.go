package shelf

import (
	"cmp"
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
	aCategory
	aBinder
	aHook
	anOversize
	kinds
)

var kindNames = [kinds]string{"settings", "box", "section", "publisher", "category", "binder", "hooks", "oversize"}

// named are the kinds that have a name of their own, as the model knows them.
var named = map[kind]model.Named{aBox: model.NamedBox, aSection: model.NamedSection, aPublisher: model.NamedPublisher,
	aCategory: model.NamedCategory, aHook: model.NamedHooks}

// given tells whether pieces of the kind come with the patterns: they can be
// renamed, but are in no order of their own and are not taken away.
func (k kind) given() bool { return k == aPublisher || k == aCategory }

// furniture is all that can be changed here: a shelf file, and besides the
// publishers and categories that none needs to mention.
type furniture struct {
	model.ShelfSpec
	Categories []string `json:"categories,omitempty"`
}

// furnitureOf is the furniture of a collection, with all publishers, as they
// are filed.
func furnitureOf(c *model.Collection) furniture {
	f := furniture{ShelfSpec: c.ShelfSpec()}
	f.Publishers = nil
	for _, p := range c.Publishers().All() {
		f.Publishers = append(f.Publishers, model.PublisherSpec{Name: p.Name, FilesAs: p.FilesAs, Numbers: p.Numbers})
	}
	for _, k := range c.Categories().All() {
		f.Categories = append(f.Categories, k.Name)
	}
	slices.SortStableFunc(f.Publishers, func(a, b model.PublisherSpec) int { return strings.Compare(words.Fold(a.Name), words.Fold(b.Name)) })
	slices.SortStableFunc(f.Categories, func(a, b string) int { return strings.Compare(words.Fold(a), words.Fold(b)) })
	return f
}

// clone gives furniture that changes of this one do not touch.
func (f furniture) clone() furniture {
	f.Sections, f.Boxes, f.Categories = slices.Clone(f.Sections), slices.Clone(f.Boxes), slices.Clone(f.Categories)
	f.Publishers, f.Binders, f.Hooks = slices.Clone(f.Publishers), slices.Clone(f.Binders), slices.Clone(f.Hooks)
	f.Oversize = slices.Clone(f.Oversize)
	return f
}

// plain tells whether a publisher files as any does.
func plain(p model.PublisherSpec) bool {
	return p.FilesAs == "" && (p.Numbers == "" || p.Numbers == model.Consecutive)
}

// piece is a line of the list: one of its kind, or with -1 the place of a
// first one. The settings are 0.
type piece struct {
	kind kind
	i    int
}

func (f *furniture) count(k kind) int {
	return [kinds]int{1, len(f.Boxes), len(f.Sections), len(f.Publishers), len(f.Categories), len(f.Binders), len(f.Hooks), len(f.Oversize)}[k]
}

// pieces lists all there is, kind by kind.
func (f *furniture) pieces() []piece {
	var out []piece
	for k := range kinds {
		n := f.count(k)
		for i := range n {
			out = append(out, piece{k, i})
		}
		if n == 0 && k != aCategory {
			out = append(out, piece{k, -1})
		}
	}
	return out
}

// name is what a piece is called; of a binder its category.
func (f *furniture) name(p piece) string {
	switch p.kind {
	case aBox:
		return f.Boxes[p.i].Name
	case aSection:
		return f.Sections[p.i].Title
	case aPublisher:
		return f.Publishers[p.i].Name
	case aCategory:
		return f.Categories[p.i]
	case aBinder:
		return f.Binders[p.i].Category
	case aHook:
		return f.Hooks[p.i].Name
	case anOversize:
		return f.Oversize[p.i].Name
	}
	return ""
}

func (f *furniture) remove(p piece) {
	*f = f.clone()
	switch p.kind {
	case aBox:
		f.Boxes = slices.Delete(f.Boxes, p.i, p.i+1)
	case aSection:
		f.Sections = slices.Delete(f.Sections, p.i, p.i+1)
	case aPublisher:
		f.Publishers = slices.Delete(f.Publishers, p.i, p.i+1)
	case aBinder:
		f.Binders = slices.Delete(f.Binders, p.i, p.i+1)
	case aHook:
		f.Hooks = slices.Delete(f.Hooks, p.i, p.i+1)
	case anOversize:
		f.Oversize = slices.Delete(f.Oversize, p.i, p.i+1)
	}
}

// move changes places with the one before or after of the same kind.
func (f *furniture) move(p piece, step int) bool {
	to := p.i + step
	if p.kind == theSettings || p.kind.given() || p.i < 0 || to < 0 || to >= f.count(p.kind) {
		return false
	}
	*f = f.clone()
	switch p.kind {
	case aBox:
		f.Boxes[p.i], f.Boxes[to] = f.Boxes[to], f.Boxes[p.i]
	case aSection:
		f.Sections[p.i], f.Sections[to] = f.Sections[to], f.Sections[p.i]
	case aBinder:
		f.Binders[p.i], f.Binders[to] = f.Binders[to], f.Binders[p.i]
	case aHook:
		f.Hooks[p.i], f.Hooks[to] = f.Hooks[to], f.Hooks[p.i]
	case anOversize:
		f.Oversize[p.i], f.Oversize[to] = f.Oversize[to], f.Oversize[p.i]
	}
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

// values are what the fields of a piece say, in the order of fieldLabels.
func (f *furniture) values(p piece) []string {
	switch p.kind {
	case theSettings:
		x := f.Settings
		return []string{x.Units, x.Envelope, space(x.Working), x.Thickness.Uncut.String(), x.Thickness.Cut.String(), x.Thickness.Bulky.String(),
			x.Divider.String(), num(x.RangeCardEvery), num(x.PublisherCardFrom), x.Half.String()}
	case aBox:
		x := f.Boxes[p.i]
		return []string{x.Name, x.Length.String(), x.Place, yes(x.Locked)}
	case aSection:
		x := f.Sections[p.i]
		return []string{x.Title, strings.Join(x.Publishers, listed), strings.Join(x.Tags, listed), yes(x.NewBox)}
	case aPublisher:
		x := f.Publishers[p.i]
		numbers := x.Numbers
		if numbers == "" {
			numbers = model.Consecutive
		}
		return []string{x.Name, x.FilesAs, string(numbers)}
	case aCategory:
		return []string{f.Categories[p.i]}
	case aBinder:
		x := f.Binders[p.i]
		return []string{x.Category, num(x.Pockets), strings.Join(x.SubDividers, listed), cmp.Or(string(x.SeeAlso), byLine)}
	case anOversize:
		x := f.Oversize[p.i]
		return []string{x.Name, x.Length.String(), x.Place}
	}
	x := f.Hooks[p.i]
	return []string{x.Name, num(x.Hooks), num(x.Each)}
}

// fresh are what the fields of a new piece begin with.
func (f *furniture) fresh(k kind) []string {
	values := make([]string, len(fieldLabels[k]))
	for i, label := range fieldLabels[k] {
		if c := choices[label]; c != nil {
			values[i] = c[0]
		}
	}
	if n := len(f.Boxes); k == aBox && n > 0 {
		values[1] = f.Boxes[n-1].Length.String() // as long as the last one, most likely
	}
	return values
}

// put takes the fields of a form over, and says which of its kind it is now.
func (f *furniture) put(at piece, isNew bool, texts []string) (int, error) {
	p, to := &parsing{labels: fieldLabels[at.kind], texts: texts}, f.clone()
	i := at.i
	if isNew {
		i++
	}
	switch at.kind {
	case theSettings:
		s := &to.Settings
		s.Units, s.Envelope, s.Working = texts[0], texts[1], p.space(2)
		s.Thickness = model.Thickness{Uncut: p.length(3), Cut: p.length(4), Bulky: p.length(5)}
		s.Divider, s.RangeCardEvery, s.PublisherCardFrom = p.length(6), p.count(7), p.count(8)
		half, err := model.ParseHalf(texts[9])
		p.fail(9, err)
		s.Half = half
	case aBox:
		to.Boxes = placed(to.Boxes, i, isNew, model.BoxSpec{Name: p.name(0), Length: p.length(1), Place: texts[2], Locked: texts[3] == yes(true)})
	case aSection:
		to.Sections = placed(to.Sections, i, isNew, model.SectionSpec{Title: p.name(0), Publishers: p.names(1), Tags: p.names(2), NewBox: texts[3] == yes(true)})
	case aPublisher:
		scheme, err := model.ParseScheme(texts[2])
		p.fail(2, err)
		to.Publishers = placed(to.Publishers, i, isNew, model.PublisherSpec{Name: p.name(0), FilesAs: texts[1], Numbers: scheme})
	case aCategory:
		to.Categories[i] = p.name(0)
	case aBinder:
		see, err := model.ParseEntered(texts[3])
		p.fail(3, err)
		to.Binders = placed(to.Binders, i, isNew, model.BinderSpec{Category: p.name(0), Pockets: p.count(1), SubDividers: p.names(2), SeeAlso: see})
	case anOversize:
		b := model.BoxSpec{}
		if !isNew {
			b = to.Oversize[i]
		}
		b.Name, b.Length, b.Place = p.name(0), p.length(1), texts[2]
		to.Oversize = placed(to.Oversize, i, isNew, b)
	case aHook:
		to.Hooks = placed(to.Hooks, i, isNew, model.HookSpec{Name: p.name(0), Hooks: p.count(1), Each: p.count(2)})
	}
	if p.err != nil {
		return 0, p.err
	}
	*f = to
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

func (p *parsing) name(i int) string {
	if p.texts[i] == "" {
		p.fail(i, fmt.Errorf("is empty; give it one, by which you know it"))
	}
	return p.texts[i]
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
