package exchange

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/words"
)

// titles finds the pattern that an entry is a copy of.
type titles struct {
	c      *model.Collection
	known  map[string]model.PatternID
	seen   map[model.PatternID]title // of this file and of the store
	theirs map[model.PatternID]model.PatternID
	next   model.PatternID
	folded map[string]string // names of publishers and categories, of which there are few

	numbers *lookup.Numbers // of the store; nil: not asked for yet
	again   []Again
}

// Again is a row whose publisher and number, or name where it has none, are listed
// already, in the store.
type Again struct {
	Line    int
	Further bool   // it becomes a further copy; else a pattern of its own
	Says    string // of which pattern, and why
}

// Repeated says that a file may have been taken in before: most of its rows say of
// what is listed nothing else. It is empty of another.
func (p *Planned) Repeated() string {
	further := 0
	for _, x := range p.Again {
		if x.Further {
			further++
		}
	}
	if n := len(p.Change.Entries); n > 1 && 2*further > n {
		return fmt.Sprintf("%d of the %d rows say nothing that is not listed: was this file taken in before?", further, n)
	}
	return ""
}

type title struct {
	key  string
	line int // 0: in the store
}

func newTitles(c *model.Collection, more int) *titles {
	t := &titles{c: c, known: make(map[string]model.PatternID, more), seen: make(map[model.PatternID]title, more),
		theirs: map[model.PatternID]model.PatternID{}, next: c.Counters().Pattern, folded: map[string]string{}}
	for _, cp := range c.Copies().All() {
		if _, done := t.seen[cp.Pattern]; !done {
			en := c.EntryOf(cp)
			key := t.key(&en)
			t.seen[cp.Pattern] = title{key, 0}
			t.known[key] = cp.Pattern
		}
	}
	return t
}

// key is equal for entries of one pattern: all that is said of the pattern is
// the same.
func (t *titles) key(en *model.Entry) string {
	return strings.Join([]string{t.fold(en.Publisher), en.Number, en.Name, en.SizeRange, strconv.Itoa(en.Year),
		en.FilesAs, t.fold(en.Category), en.DatedBy, en.Barcode, strings.Join(en.Tags, ";"), foldAll(en.Also), foldAll(en.Copied),
		model.SizesText(en.Sizes), model.NeedsText(en.Needs), strings.Join(en.Pieces, ";")}, "\x1f")
}

// fold is nameKey.
func (t *titles) fold(name string) string {
	key, ok := t.folded[name]
	if !ok {
		key = nameKey(name)
		t.folded[name] = key
	}
	return key
}

func foldAll(names []string) string {
	var b strings.Builder
	for _, n := range names {
		b.WriteString(nameKey(n) + ";")
	}
	return b.String()
}

// nameKey is what two spellings of one name share. A name of nothing but signs
// is its own.
func nameKey(name string) string {
	if key := words.Fold(name); key != "" {
		return key
	}
	return name
}

// settle gives an entry the number of its pattern. A number in the file only
// says which of its rows belong together: another store may use it for
// something else. It tells whether the pattern was there before.
func (t *titles) settle(en *model.Entry, line int) (known bool, reason string) {
	key := t.key(en)
	their := en.Pattern
	if their == 0 {
		id, ok := t.known[key]
		if !ok || t.seen[id].line == 0 {
			if l, listed := t.listed(en, line); listed && l.Further() {
				id, ok = cmp.Or(id, l.Pattern.ID), true
			}
		}
		if ok {
			en.Pattern = id
			return true, ""
		}
		en.Pattern = t.fresh(0)
		return false, t.note(en.Pattern, key, line)
	}
	if id, ok := t.theirs[their]; ok {
		if first := t.seen[id]; first.key != key {
			like := fmt.Sprintf("line %d", first.line)
			if first.line == 0 {
				like = "one that is listed already"
			}
			return false, fmt.Sprintf("it has pattern %d like %s, but says other things of it; make them say the same, or empty the pattern cell", their, like)
		}
		en.Pattern = id
		return true, ""
	}
	if old, ok := t.seen[their]; ok && old.line == 0 && old.key == key {
		t.theirs[their], en.Pattern = their, their
		return true, ""
	}
	en.Pattern = t.fresh(their)
	if reason = t.note(en.Pattern, key, line); reason == "" {
		t.theirs[their] = en.Pattern
	}
	return false, reason
}

// listed finds what the store lists by publisher and number or name of an entry, and
// notes that it does.
func (t *titles) listed(en *model.Entry, line int) (lookup.Listed, bool) {
	if t.numbers == nil {
		t.numbers = lookup.NumbersOf(t.c)
	}
	l, ok := t.numbers.Of(*en)
	if ok {
		t.again = append(t.again, Again{line, l.Further(), fmt.Sprintf("%s; %s", t.c.Called(l.Pattern.ID), l.Why())})
	}
	return l, ok
}

// fresh gives a pattern number that is free, the wished one if it is.
func (t *titles) fresh(wish model.PatternID) model.PatternID {
	if wish > t.c.Counters().Pattern {
		if _, taken := t.seen[wish]; !taken {
			t.next = max(t.next, wish)
			return wish
		}
	}
	t.next++
	return t.next
}

// note notes a pattern that is new, or gives the reason why it cannot be.
func (t *titles) note(id model.PatternID, key string, line int) (reason string) {
	if id > model.MostNumber {
		return fmt.Sprintf("pattern number %d is given, and is the highest there can be; give this row a free one below it", model.MostNumber)
	}
	t.seen[id] = title{key, line}
	if _, ok := t.known[key]; !ok {
		t.known[key] = id
	}
	return ""
}
