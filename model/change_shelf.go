package model

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
)

// SetShelf makes the furniture what the spec says. A box keeps what stands in
// it as long as its name stays, or the renames say which box it was; what stood
// in a box that is no longer there goes to the to-file pile.
type SetShelf struct {
	Spec    ShelfSpec `json:"spec"`
	Renames []Rename  `json:"renames,omitempty"` // done at once; the spec says the new names
}

// Title implements Change.
func (ch *SetShelf) Title(*Collection) string { return "changed the shelf" }

func (ch *SetShelf) apply(e *editor) error {
	spec := ch.Spec.clone()
	if err := spec.check(); err != nil {
		return err
	}
	renames, err := checkAll(ch.Renames, e.c.shelf)
	if err != nil {
		return err
	}
	if err := e.rename(renames); err != nil {
		return err
	}
	e.filePublishers(spec.Publishers)
	old, s := e.c.shelf, &Shelf{Settings: spec.Settings, Labels: spec.Labels}
	s.Boxes = e.boxes(old.Boxes, spec.Boxes, renames)
	s.Oversize = e.boxes(old.Oversize, spec.Oversize, nil)
	if s.Sections, err = e.sections(old, spec.Sections, renames); err != nil {
		return err
	}
	used := map[BinderID]bool{}
	for _, b := range spec.Binders {
		binder := Binder{e.nextBinder(old, e.category(b.Category), used), e.category(b.Category), b.Pockets, b.SubDividers, b.SeeAlso}
		used[binder.ID] = true
		s.Binders = append(s.Binders, binder)
		e.c.counters.Binder = max(e.c.counters.Binder, binder.ID)
	}
	for _, h := range spec.Hooks {
		row, ok := old.HookRowNamed(before(renames, NamedHooks, h.Name))
		if !ok {
			e.c.counters.HookRow++
			row.ID = e.c.counters.HookRow
		}
		s.Hooks = append(s.Hooks, HookRow{row.ID, h.Name, h.Hooks, h.Each})
	}
	e.put(s)
	e.dropLost(old, s)
	return nil
}

// nextBinder gives the old number of the category's next binder, or a new one.
func (e *editor) nextBinder(old *Shelf, category CategoryID, used map[BinderID]bool) BinderID {
	for _, b := range old.Binders {
		if b.Category == category && !used[b.ID] {
			return b.ID
		}
	}
	return e.c.counters.Binder + 1
}

// boxNamed is BoxNamed without its error, which lists all boxes: too much to do
// for each box of many.
func (s *Shelf) boxNamed(name string) (Box, bool) {
	for _, b := range s.Boxes {
		if strings.EqualFold(b.Name, name) {
			return b, true
		}
	}
	return Box{}, false
}

func (e *editor) boxes(old []Box, specs []BoxSpec, renames []Rename) []Box {
	var out []Box
	for _, b := range specs {
		box, there := (&Shelf{Boxes: old}).boxNamed(before(renames, NamedBox, b.Name))
		if !there {
			e.c.counters.Box++
			box.ID = e.c.counters.Box
		}
		out = append(out, Box{box.ID, b.Name, b.Length, b.Place, b.Locked})
	}
	return out
}

// sections are those of a spec. Two names can be spellings of one publisher, which
// is in one section all the same.
func (e *editor) sections(old *Shelf, specs []SectionSpec, renames []Rename) ([]Section, error) {
	var out []Section
	in := map[PublisherID]string{}
	for _, s := range specs {
		was := before(renames, NamedSection, s.Title)
		i := slices.IndexFunc(old.Sections, func(o Section) bool { return strings.EqualFold(o.Title, was) })
		sec := Section{Title: s.Title, Tags: s.Tags, NewBox: s.NewBox}
		if i >= 0 {
			sec.ID = old.Sections[i].ID
		} else {
			e.c.counters.Section++
			sec.ID = e.c.counters.Section
		}
		for _, p := range s.Publishers {
			if p == allOthers {
				sec.Others = true
				continue
			}
			id := e.publisher(p)
			if other, twice := in[id]; twice {
				return nil, twoSections(e.c.Publisher(id).Name, other, s.Title)
			}
			in[id] = s.Title
			sec.Publishers = append(sec.Publishers, id)
		}
		out = append(out, sec)
	}
	return out, nil
}

func twoSections(publisher, one, other string) error {
	return Inputf("publisher %q is in section %q and in section %q; leave it in one of them", publisher, one, other)
}

// filePublishers sets how publishers are filed; one that is not named files in
// the plain way again.
func (e *editor) filePublishers(specs []PublisherSpec) {
	named := map[PublisherID]bool{}
	for _, s := range specs {
		id := e.publisher(s.Name)
		named[id] = true
		numbers := s.Numbers
		if numbers == Consecutive {
			numbers = ""
		}
		if p := *e.c.Publisher(id); p.FilesAs != s.FilesAs || p.Numbers != numbers {
			p.FilesAs, p.Numbers = s.FilesAs, numbers
			e.put(&p)
		}
	}
	for id := range e.from.publishers.All() {
		now := e.c.Publisher(PublisherID(id)) // which may have been renamed
		if !named[now.ID] && (now.FilesAs != "" || now.Numbers != "") {
			p := *now
			p.FilesAs, p.Numbers = "", ""
			e.put(&p)
		}
	}
}

// dropLost takes copies out of boxes and off hooks that are no longer there.
func (e *editor) dropLost(old, s *Shelf) {
	for _, b := range old.Boxes {
		if _, ok := s.Box(b.ID); !ok {
			e.setRow(b.ID, nil)
			e.unsign(b.ID)
		}
	}
	if slices.Equal(old.Hooks, s.Hooks) {
		return
	}
	for _, cp := range e.c.copies.All() {
		lost := cp.Hook.Row != 0 && !slices.ContainsFunc(s.Hooks, func(h HookRow) bool {
			return h.ID == cp.Hook.Row && cp.Hook.N <= h.Hooks
		})
		if lost {
			off := *cp
			off.Hook = Hook{}
			e.put(&off)
		}
	}
}

// MostHooks is how many hooks there can be in a row, and mostHeld how many patterns
// on one or pockets in a binder: far above any.
const (
	MostHooks = 9_999
	mostHeld  = 9_999
)

// check finds what cannot be used, and says what to write instead.
func (s *ShelfSpec) check() error {
	if err := s.Settings.check(); err != nil {
		return err
	}
	if err := cmp.Or(s.checkPrinting(), s.checkSections()); err != nil {
		return err
	}
	once := map[string]bool{}
	for _, b := range slices.Concat(s.Boxes, s.Oversize) {
		key := "box " + caseKey(b.Name)
		switch {
		case b.Name == "":
			return Inputf("a box has no name; give each [[box]] a name, like \"1\"")
		case once[key]:
			return Inputf("box %q is there twice; each box needs a name of its own", b.Name)
		case b.Length <= 0 || !sane(b.Length.MM()):
			return Inputf("box %q has no length that a box can have; measure it inside, front to back, in millimetres", b.Name)
		}
		once[key] = true
	}
	for _, b := range s.Binders {
		if b.Category == "" || b.Pockets < 1 || b.Pockets > mostHeld {
			return Inputf("binder %q needs a category and 1 to %d pockets", b.Category, mostHeld)
		}
		if err := asKept("see_also", b.SeeAlso, ParseEntered); err != nil {
			return err
		}
	}
	for _, h := range s.Hooks {
		key := "hook " + caseKey(h.Name)
		if h.Name == "" || h.Hooks < 1 || h.Hooks > MostHooks || h.Each < 1 || h.Each > mostHeld || once[key] {
			return Inputf("hooks %q need a name of their own, 1 to %d hooks, and 1 to %d patterns each", h.Name, MostHooks, mostHeld)
		}
		once[key] = true
	}
	for _, p := range s.Publishers {
		if _, err := ParseScheme(string(p.Numbers)); err != nil || p.Name == "" {
			return cmp.Or(err, Inputf("a [[publisher]] has no name"))
		}
		if err := noPublisher(p.Name); err != nil {
			return err
		}
	}
	return nil
}

// caseKey is the same for names that strings.EqualFold takes for one: each
// letter becomes the first of those that differ by case alone. Lower case does
// not do for all of them, among others the two small sigmas.
func caseKey(name string) string {
	return strings.Map(func(r rune) rune {
		first := r
		for f := unicode.SimpleFold(r); f != r; f = unicode.SimpleFold(f) {
			first = min(first, f)
		}
		return first
	}, name)
}

func (s *ShelfSpec) checkSections() error {
	titles, in := map[string]bool{}, map[string]string{}
	for _, sec := range s.Sections {
		if sec.Title == "" || titles[caseKey(sec.Title)] {
			return Inputf("section %q needs a title of its own; it is what the divider card says", sec.Title)
		}
		titles[caseKey(sec.Title)] = true
		if len(sec.Publishers)+len(sec.Tags) == 0 {
			return Inputf("section %q holds nothing; name its publishers, or \"*\" for all others, or tags", sec.Title)
		}
		for _, p := range sec.Publishers {
			if other, twice := in[nameKey(p)]; twice {
				return twoSections(p, other, sec.Title)
			}
			in[nameKey(p)] = sec.Title
		}
	}
	return nil
}

func (s *Settings) check() error {
	switch {
	case s.Units != Millimetres && s.Units != Inches:
		return &FieldError{"units", s.Units, "are not known", `use "mm" or "in"`}
	case s.Half != North && s.Half != South:
		return &FieldError{"hemisphere", string(s.Half), "is not known", `use "north" or "south"`}
	case s.Thickness.Uncut <= 0 || s.Thickness.Cut <= 0 || s.Thickness.Bulky <= 0:
		return Inputf("every thickness must be more than 0 mm; measure a handful of envelopes pressed together and divide")
	case !sane(s.Thickness.Uncut.MM()), !sane(s.Thickness.Cut.MM()), !sane(s.Thickness.Bulky.MM()), !sane(s.Divider.MM()):
		return Inputf("every thickness, and that of a divider card, must be between 0 and 100000 mm; measure a handful pressed together and divide")
	case !sane(s.Working.Fixed.MM()) || !(s.Working.Percent >= 0 && s.Working.Percent < 100):
		return Inputf("working_space is neither a share of a box below 100 %% nor a length; write \"15%%\" or \"60mm\"")
	case s.RangeCardEvery < 0 || s.PublisherCardFrom < 0:
		return Inputf("range_card_every and publisher_card_from count envelopes; use 0 for none")
	}
	return nil
}
