// Package alike is for tests: it draws what can happen to a cupboard in which names
// and numbers meet again and again, since that is where rules of two kinds differ.
//
// The usual way in is [Change], on what came of [Furniture] and the changes before.
package alike

import (
	"cmp"
	"slices"

	"example.org/tuckrow/model"
	"pgregory.net/rapid"
)

// alike are names of which several are one, or almost, by one rule or another. They
// stand in groups, since rapid likes the first few of a long list best.
var alike = rapid.OneOf(
	rapid.SampledFrom([]string{"Quillon", "quillon", "Quillon.", "Quillon & Daughter", "Harrow & Pell"}),
	rapid.SampledFrom([]string{"Coats", "coats", "Coats, capes", "Coats; capes", "\"Coats\""}),
	rapid.SampledFrom([]string{"", "*", "!", "?", "36\" wide"}),
	rapid.SampledFrom([]string{"not known", "Not known", "unidentified", "Unidentified", "door"}),
	rapid.SampledFrom([]string{"ς", "Σ", "İ", "i", "é", "e\u0301"}),
	rapid.SampledFrom([]string{"1", "1.", "2", "01", "1 - 2"}),
)

// Entry draws what could be said of a copy, and often cannot.
func Entry(t *rapid.T, c *model.Collection) model.Entry { return alikes{t, c}.entry() }

// Change draws any change there is to a cupboard. Many are refused.
func Change(t *rapid.T, c *model.Collection) model.Change { return alikes{t, c}.change() }

// Furniture is what there is to begin with.
func Furniture() model.Change {
	box := func(name string) model.BoxSpec { return model.BoxSpec{Name: name, Length: model.MM(380)} }
	return &model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{box("1"), box("2"), box("σ")}, Hooks: []model.HookSpec{{Name: "door", Hooks: 3, Each: 3}}}}
}

// alikes draws names, and numbers of things: mostly of those that there are.
type alikes struct {
	*rapid.T
	c *model.Collection
}

func (t alikes) name(label string) string { return alike.Draw(t.T, label) }

func (t alikes) names(most int, label string) []string {
	return rapid.SliceOfN(alike, 0, most).Draw(t.T, label)
}

func (t alikes) upTo(n int, label string) int { return rapid.IntRange(0, n).Draw(t.T, label) }

func (t alikes) is(label string) bool { return rapid.Bool().Draw(t.T, label) }

// seldom is true once in some twenty times.
func (t alikes) seldom(label string) bool { return t.upTo(19, label) == 19 }

// one is the number of a thing that is there, and seldom of one that is not.
func one[T any](t alikes, there *model.Table[T], label string) uint32 {
	var ids []uint32
	for id := range there.All() {
		ids = append(ids, id)
	}
	if len(ids) == 0 || t.seldom("any "+label) {
		return uint32(1 + t.upTo(8, label))
	}
	return rapid.SampledFrom(ids).Draw(t.T, label)
}

func (t alikes) copy() model.Accession { return model.Accession(one(t, t.c.Copies(), "copy")) }

func (t alikes) pattern() model.PatternID { return model.PatternID(one(t, t.c.Patterns(), "pattern")) }

func (t alikes) publisher() model.PublisherID {
	return model.PublisherID(one(t, t.c.Publishers(), "publisher"))
}

func (t alikes) copies(least, most int) (out []model.Accession) {
	for range rapid.IntRange(least, most).Draw(t.T, "copies") {
		if a := t.copy(); !slices.Contains(out, a) || t.seldom("twice") {
			out = append(out, a)
		}
	}
	return out
}

// called is mostly the name of something that is there.
func (t alikes) called(kind model.Named) string {
	var names []string
	switch kind {
	case model.NamedBox:
		for _, b := range t.c.Shelf().Boxes {
			names = append(names, b.Name)
		}
	case model.NamedSection:
		for _, s := range t.c.Shelf().Sections {
			names = append(names, s.Title)
		}
	case model.NamedHooks:
		for _, h := range t.c.Shelf().Hooks {
			names = append(names, h.Name)
		}
	case model.NamedPublisher:
		for _, p := range t.c.Publishers().All() {
			names = append(append(names, p.Name), p.Spellings...)
		}
	case model.NamedCategory:
		for _, k := range t.c.Categories().All() {
			names = append(names, k.Name)
		}
	case model.NamedBatch:
		for _, b := range t.c.Batches().All() {
			names = append(names, b.Name)
		}
	}
	if len(names) == 0 || t.upTo(3, "any name") == 0 {
		return t.name("called")
	}
	return rapid.SampledFrom(names).Draw(t.T, "name of "+string(kind))
}

func (t alikes) rename() model.Rename {
	kind := rapid.SampledFrom(model.AllNamed()).Draw(t.T, "kind")
	return model.Rename{Kind: kind, Old: t.called(kind), New: t.name("new")}
}

func (t alikes) day(label string) model.Date {
	if t.seldom("no day") {
		return "soon"
	}
	return rapid.SampledFrom([]model.Date{"", "2026-02-03", "1999-12-31"}).Draw(t.T, label)
}

func (t alikes) box() string {
	if b := t.c.Shelf().Boxes; len(b) > 0 && !t.seldom("any box") {
		return b[t.upTo(len(b)-1, "box")].Name
	}
	return t.name("box")
}

func (t alikes) length(label string) model.Length {
	return model.Length(rapid.IntRange(0, 60_000).Draw(t.T, label))
}

func (t alikes) entry() model.Entry {
	en := model.Entry{
		Publisher: cmp.Or(t.publisherName(), "Ada"), Number: rapid.SampledFrom([]string{"", "1", "1 ", "K1", "01"}).Draw(t.T, "number"), Name: cmp.Or(t.name("name"), "Cape"),
		Category: t.name("category"), Also: t.names(3, "also"), Batch: t.name("batch"), Tags: t.names(3, "tags"), Year: t.upTo(2, "year"), Notes: t.name("notes"),
		Sleeve: rapid.SampledFrom([]model.Sleeve{"", model.SleeveInBinder, model.SleevePhotocopy, model.SleeveMissing}).Draw(t.T, "sleeve"),
		Home:   rapid.SampledFrom([]model.Home{"", model.HomeBox, model.HomeHook, model.HomeOversize}).Draw(t.T, "home"),
		Medium: rapid.SampledFrom([]model.Medium{"", model.Printed, model.Drafted}).Draw(t.T, "medium"), Added: t.day("added"),
	}
	if len(en.Also) > 0 && t.is("photocopied") {
		en.Copied = []string{t.name("photocopied in"), en.Also[0]}[t.upTo(1, "which"):]
	}
	switch t.upTo(9, "where") {
	case 0, 1, 2:
		en.Box, en.Position = t.box(), t.upTo(4, "position")
	case 3:
		en.Hook = rapid.SampledFrom([]string{"door 1", "Door 3", "wall 2"}).Draw(t.T, "hook")
	case 4:
		en.Missing = t.day("missing")
	case 5:
		en.Out = &model.Out{To: t.name("to"), Due: t.day("due")}
	case 6:
		en.Pieces, en.Found = t.names(3, "pieces"), &model.Pieces{Found: t.pieces()}
	case 7:
		en.Sizes = []model.Size{{Name: t.name("size"), Bust: t.length("bust")}, {Name: "1", Hip: t.length("hip")}}
		en.Needs = []model.Need{{View: t.name("view"), Size: t.name("sizes"), Width: t.length("width"), Length: t.length("long"), For: t.name("for")}}
	case 8:
		en.Print = model.Print{Pages: t.upTo(9, "pages"), Paper: t.name("paper"), Square: t.length("square"), Side: t.length("side"), Assembled: t.is("assembled"), Version: t.name("version")}
		en.Value = model.Money(t.upTo(99_999, "value"))
	}
	if t.upTo(3, "another") == 3 {
		en.Pattern = t.pattern()
	}
	if t.seldom("again") {
		en.Accession = t.copy()
	}
	return en
}

func (t alikes) publisherName() string {
	if t.is("listed") {
		return t.called(model.NamedPublisher)
	}
	return t.name("publisher")
}

func (t alikes) pieces() (out []model.Piece) {
	for range t.upTo(3, "pieces") {
		out = append(out, model.Piece{Name: t.name("piece"), State: rapid.SampledFrom([]model.PieceState{"", model.PieceTorn, model.PieceMissing}).Draw(t.T, "state")})
	}
	return out
}

// shelf is the furniture with one thing otherwise.
func (t alikes) shelf() model.ShelfSpec {
	spec := t.c.ShelfSpec()
	publishers := func(most int) (out []string) {
		for range t.upTo(most, "publishers") {
			out = append(out, t.called(model.NamedPublisher))
		}
		return out
	}
	switch t.upTo(7, "part") {
	case 0:
		spec.Boxes = append(spec.Boxes, model.BoxSpec{Name: t.name("box"), Length: model.MM(380), Place: t.name("place")})
	case 1:
		if n := len(spec.Boxes); n > 0 {
			i := t.upTo(n-1, "box")
			if t.is("for oversize") {
				spec.Oversize = append(spec.Oversize, spec.Boxes[i])
			}
			spec.Boxes = slices.Delete(spec.Boxes, i, i+1)
		}
	case 2, 3, 4:
		spec.Sections = append(spec.Sections, model.SectionSpec{Title: t.name("section"), Publishers: publishers(2), Tags: t.names(1, "tags")})
	case 5:
		for _, name := range publishers(2) {
			spec.Publishers = append(spec.Publishers, model.PublisherSpec{Name: name, FilesAs: t.name("files as"), Numbers: rapid.SampledFrom([]model.Scheme{"", model.PrefixFirst}).Draw(t.T, "numbers")})
		}
	case 6:
		spec.Binders = append(spec.Binders, model.BinderSpec{Category: t.called(model.NamedCategory), Pockets: 1 + t.upTo(80, "pockets"), SubDividers: t.names(2, "sub-dividers")})
	case 7:
		if spec.Hooks = nil; t.is("hooks") {
			spec.Hooks = []model.HookSpec{{Name: "door", Hooks: 1 + t.upTo(2, "hooks"), Each: 3}}
		}
	}
	return spec
}

// pick is the number of a pattern that is so, or of any where none is.
func (t alikes) pick(so func(*model.Pattern) bool) model.PatternID {
	var ids []model.PatternID
	for _, p := range t.c.Patterns().All() {
		if so(p) {
			ids = append(ids, p.ID)
		}
	}
	if len(ids) == 0 {
		return t.pattern()
	}
	return rapid.SampledFrom(ids).Draw(t.T, "pattern")
}

// several are some copies of one pattern that has more.
func (t alikes) several() []model.Accession {
	of := map[model.PatternID][]model.Accession{}
	for _, cp := range t.c.Copies().All() {
		of[cp.Pattern] = append(of[cp.Pattern], cp.Accession)
	}
	p := t.pick(func(p *model.Pattern) bool { return len(of[p.ID]) > 1 })
	return of[p][:t.upTo(len(of[p]), "of them")]
}

// change draws any change there is, of a cupboard in which names and numbers
// meet again and again.
func (t alikes) change() model.Change {
	makes := []func() model.Change{
		func() model.Change { return &model.Add{Entries: []model.Entry{t.entry(), t.entry()}} },
		func() model.Change { return &model.Add{Entries: []model.Entry{t.entry()}} },
		func() model.Change { en := t.entry(); en.Accession = t.copy(); return &model.Revise{Entry: en} },
		func() model.Change { return &model.Remove{Copies: t.copies(1, 2)} },
		func() model.Change {
			return &model.Tick{Copies: t.copies(0, 3), Step: model.Step(t.upTo(3, "step")), Undone: t.is("undone")}
		},
		func() model.Change {
			return &model.Stand{Rows: []model.NamedRow{{Box: t.box(), Copies: t.copies(0, 3)}, {Box: t.box(), Copies: t.copies(0, 2)}}[t.upTo(1, "rows"):],
				Missing: t.copies(0, 1), Back: t.copies(0, 1), Read: t.is("read"), Done: t.is("done"), Took: &model.Took{Pulled: t.upTo(3, "pulled"), Seconds: t.upTo(90, "seconds")},
				Signs: []model.NamedSigns{{Box: t.box(), Label: t.name("label"), Cards: t.names(2, "cards")}}[t.upTo(1, "signs"):]}
		},
		func() model.Change {
			return &model.Hang{Copy: t.copy(), Hook: rapid.SampledFrom([]string{"", "door 1", "Door 2"}).Draw(t.T, "hook")}
		},
		func() model.Change {
			return &model.TakeOut{Copy: t.copy(), To: t.name("to"), For: t.name("for"), Due: t.day("due")}
		},
		func() model.Change { return &model.PutBack{Copy: t.copy()} },
		func() model.Change { return &model.SetShelf{Spec: t.shelf()} },
		func() model.Change {
			return &model.Decide{Firsts: []model.NamedWall{{Box: t.box(), First: t.copy()}}}
		},
		func() model.Change {
			return &model.TakeMeasure{Measure: model.Measure{Box: t.box(), Uncut: t.upTo(9, "uncut"), Measured: t.length("measured"), On: t.day("on")}}
		},
		func() model.Change {
			return &model.DropMeasure{ID: model.MeasureID(one(t, t.c.Measures(), "measurement"))}
		},
		func() model.Change {
			return &model.Adopt{Thickness: model.Thickness{Uncut: t.length("uncut"), Cut: t.length("cut"), Bulky: t.length("bulky")}}
		},
		func() model.Change { return &model.Expect{Batch: t.name("batch"), About: t.upTo(9, "about")} },
		func() model.Change {
			return &model.SetBatch{Batch: t.name("batch"), Source: t.name("source"), Notes: t.name("notes")}
		},
		func() model.Change { return &model.DropBatch{Batch: t.called(model.NamedBatch)} },
		func() model.Change {
			return &model.SetPerson{Person: model.Person{ID: model.PersonID(t.upTo(1, "known") * int(one(t, t.c.People(), "person"))), Name: t.name("person"), Bust: t.length("bust"), On: t.day("on")}}
		},
		func() model.Change {
			return &model.SetCloth{Cloth: model.Cloth{ID: model.ClothID(t.upTo(1, "known") * int(one(t, t.c.Cloths(), "cloth"))), Name: t.name("cloth"), Width: t.length("width"), Length: t.length("long")}}
		},
		func() model.Change {
			return &model.SetGoal{Goal: model.Goal{ID: model.GoalID(t.upTo(1, "known") * int(one(t, t.c.Goals(), "goal"))), Name: t.name("goal"), Since: t.day("since"), Of: t.names(3, "of")}}
		},
		func() model.Change {
			kind := rapid.SampledFrom([]string{"person", "cloth", "wish", "make", "goal"}).Draw(t.T, "kind")
			return &model.Strike{Kind: kind, ID: map[string]uint32{"person": one(t, t.c.People(), kind), "cloth": one(t, t.c.Cloths(), kind), "wish": one(t, t.c.Wishes(), kind),
				"make": one(t, t.c.Makes(), kind), "goal": one(t, t.c.Goals(), kind)}[kind]}
		},
		func() model.Change {
			r := t.rename()
			return &r
		},
		func() model.Change {
			return &model.SetShelf{Spec: t.shelf(), Renames: []model.Rename{t.rename()}}
		},
		func() model.Change {
			return &model.Want{Wish: model.Wish{ID: model.WishID(t.upTo(1, "known") * int(one(t, t.c.Wishes(), "wish"))), Publisher: t.name("publisher"), Number: t.name("number"), Name: "n" + t.name("name"), Category: t.name("category"), Expected: t.day("expected"), From: t.name("from")}}
		},
		func() model.Change {
			return &model.Arrive{Wish: model.WishID(one(t, t.c.Wishes(), "wish")), Entry: t.entry()}
		},
		func() model.Change {
			return &model.SetWorth{Of: t.name("of"), Each: model.Money(t.upTo(2, "each") * 1234)}
		},
		func() model.Change {
			return &model.SetStock{Item: rapid.SampledFrom(model.StockItems()).Draw(t.T, "item"), Have: t.upTo(9, "have")}
		},
		func() model.Change { return &model.SetPerYear{Copies: t.upTo(2, "copies")} },
		func() model.Change { return &model.Count{Boxes: []string{t.box()}} },
		func() model.Change {
			return &model.LookThrough{Copy: t.copy(), Pieces: t.names(3, "pieces"), Found: t.pieces()}
		},
		func() model.Change {
			a := t.pattern()
			return &model.SetLink{A: a, B: t.pick(func(p *model.Pattern) bool { return p.ID != a }), Kind: rapid.SampledFrom([]model.LinkKind{"", model.Reissue}).Draw(t.T, "kind"), Off: t.upTo(3, "off") == 0}
		},
		func() model.Change {
			keep := t.pattern()
			return &model.Merge{Keep: keep, Gone: t.pick(func(p *model.Pattern) bool { return p.ID != keep }), Take: rapid.SliceOfN(rapid.SampledFrom(model.Takes()), 0, 3).Draw(t.T, "take")}
		},
		func() model.Change {
			return &model.Unmerge{Pattern: t.pick(func(p *model.Pattern) bool { return len(p.Merged) > 0 })}
		},
		func() model.Change {
			ch := &model.SplitPattern{Copies: t.several(), Queued: t.upTo(3, "queued") == 3}
			if t.is("says") {
				en := t.entry()
				ch.Says = &en
			}
			return ch
		},
		func() model.Change {
			return &model.MergePublishers{Keep: t.publisher(), Gone: t.publisher()}
		},
		func() model.Change {
			return &model.Sewn{Make: model.Make{ID: model.MakeID(t.upTo(1, "known") * int(one(t, t.c.Makes(), "make"))), Pattern: t.pattern(), On: t.day("on"), For: t.name("for")}}
		},
		func() model.Change {
			return &model.Enqueue{Item: model.Queued{Pattern: t.pattern(), By: t.day("by"), For: t.name("for")}, At: t.upTo(3, "at")}
		},
		func() model.Change { return &model.Dequeue{Pattern: t.pattern()} },
		func() model.Change {
			return &model.SignsMade{Signs: []model.NamedSigns{{Box: t.box(), Label: t.name("label"), Cards: t.names(2, "cards")}}}
		},
		func() model.Change {
			p := t.pick(func(p *model.Pattern) bool { return len(p.Also) > 0 })
			in := t.called(model.NamedCategory)
			if x := t.c.Pattern(p); x != nil && len(x.Also) > 0 {
				in = t.c.Category(x.Also[t.upTo(len(x.Also)-1, "which")]).Name
			}
			return &model.Photocopy{Pattern: p, Category: in, Out: t.is("out")}
		},
	}
	of := t.upTo(6, "group of changes") // groups, as of names
	return makes[min(6*of+t.upTo(5, "change"), len(makes)-1)]()
}
