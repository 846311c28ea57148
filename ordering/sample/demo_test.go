package sample

import (
	"cmp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
)

// demo is the cupboard at the end of the story.
func demo(t *testing.T) *model.Collection {
	t.Helper()
	c, err := Demo().Collection()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestDemoIsTheSameEachTime(t *testing.T) {
	a, b := written(t, Demo()), written(t, Demo())
	if a != b {
		t.Error("two calls of Demo tell two stories")
	}
	if len(a) < 50_000 {
		t.Errorf("the story is %d bytes; nothing much can have been compared", len(a))
	}
}

// written is a story as text.
func written(t *testing.T, s Story) string {
	t.Helper()
	var b strings.Builder
	for _, e := range s.Events {
		text, err := model.EncodeChange(e.Change)
		if err != nil {
			t.Fatal(err)
		}
		b.WriteString(string(e.On) + " " + string(text) + "\n")
	}
	return b.String()
}

func TestDemoDaysFollowOneAnother(t *testing.T) {
	last := model.Date("")
	for i, e := range Demo().Events {
		if _, err := model.ParseDate("on", string(e.On)); err != nil || e.On == "" || e.On < last {
			t.Errorf("event %d is of %q, behind one of %q (%v)", i, e.On, last, err)
		}
		last = e.On
	}
}

func TestDemoCounts(t *testing.T) {
	c := demo(t)
	within := func(what string, got, least, most int) {
		t.Helper()
		if got < least || got > most {
			t.Errorf("%s: %d, promised are %d to %d", what, got, least, most)
		}
	}
	within("patterns", c.Patterns().Len(), 410, 430)
	within("boxes", len(c.Shelf().Boxes), 3, 3)
	within("binders", len(c.Shelf().Binders), 5, 5)
	within("rows of hooks", len(c.Shelf().Hooks), 1, 1)
	within("categories", c.Categories().Len(), 8, 8)
	within("out", len(c.OutList("")), 3, 3)
	within("batches", c.Batches().Len(), 4, 9)
	large, little := 0, 0
	for _, n := range byPublisher(c) {
		if n > 6 {
			large++
		} else {
			little++
		}
	}
	within("larger publishers", large, 7, 9)
	within("small publishers", little, 6, 15)
	pile := 0
	for _, step := range model.Steps() {
		within("at step "+step.String(), c.Steps()[step], 8, 35)
		pile += c.Steps()[step]
	}
	within("waiting", pile, 60, 70)
}

func byPublisher(c *model.Collection) map[model.PublisherID]int {
	n := map[model.PublisherID]int{}
	for _, p := range c.Patterns().All() {
		n[p.Publisher]++
	}
	return n
}

// TestDemoShowsTheTrade checks that what the trade knows is there to be seen.
func TestDemoShowsTheTrade(t *testing.T) {
	c := demo(t)
	seen := map[string]int{}
	for _, p := range c.Publishers().All() {
		seen["scheme "+string(p.Numbers)]++
		if p.FilesAs != "" && strings.HasPrefix(p.Name, "The ") {
			seen["The, filed under the next word"]++
		}
	}
	for _, p := range c.Patterns().All() {
		seen["dated by "+p.DatedBy]++
		if p.Barcode != "" && model.IsGTIN(p.Barcode) {
			seen["barcode"]++
		}
		if slices.Contains(p.Tags, inherited) {
			seen["inherited"]++
		}
		for _, s := range []*unicode.RangeTable{unicode.Greek, unicode.Hebrew, unicode.Han} {
			if strings.IndexFunc(p.Name, func(r rune) bool { return unicode.Is(s, r) }) >= 0 {
				seen["script "+map[*unicode.RangeTable]string{unicode.Greek: "Greek", unicode.Hebrew: "Hebrew", unicode.Han: "Japanese"}[s]]++
			}
		}
	}
	seen["somebody sewn for"], seen["cloth"], seen["made"], seen["queued"], seen["a goal"] = c.People().Len(), c.Cloths().Len(), c.Makes().Len(), len(c.Queue()), c.Goals().Len()
	for _, w := range c.Wishes().All() {
		seen[map[bool]string{true: "on the way", false: "wanted"}[w.OnTheWay()]]++
	}
	for _, p := range c.Patterns().All() {
		seen["a sleeve's chart"] += len(p.Sizes)
		seen["a sleeve's needs"] += len(p.Needs)
		seen["see also"] += len(p.Links)
	}
	for _, cp := range c.Copies().All() {
		seen["cut "+string(cp.Cut)]++
		seen["sleeve "+string(cp.Sleeve)]++
		seen["medium "+string(cp.Medium)]++
		if cp.Bulky {
			seen["bulky"]++
		}
		if cp.Thickness > 0 {
			seen["measured"]++
		}
		if cp.Hook.Row != 0 {
			seen["hung"]++
		}
		if strings.HasPrefix(cp.Notes, "reissue of ") {
			seen["reissue"]++
		}
	}
	for _, what := range list("scheme |scheme prefix-first|scheme issue|scheme book|scheme none|The, filed under the next word|" +
		"dated by |dated by copyright|dated by postmark|dated by price|dated by guess|barcode|inherited|script Greek|script Hebrew|script Japanese|" +
		"cut |cut uncut|cut partly|cut cut|sleeve |sleeve binder|sleeve photocopy|sleeve with tissue|sleeve missing|" +
		"medium |medium printed|medium traced|medium drafted|medium magazine|bulky|measured|hung|reissue|" +
		"somebody sewn for|cloth|made|queued|a goal|on the way|wanted|a sleeve's chart|a sleeve's needs|see also") {
		if seen[what] == 0 {
			t.Errorf("nothing shows %q", what)
		}
	}
}

func TestDemoEveryCopyIsValid(t *testing.T) {
	c := demo(t)
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	onHook := map[model.Hook]int{}
	for _, cp := range c.Copies().All() {
		en := c.EntryOf(cp)
		if err := en.Normalise(); err != nil {
			t.Errorf("copy %d: %v", cp.Accession, err)
		}
		for _, f := range model.Fields() {
			was := f.Get(&en)
			if err := f.Set(&en, was); err != nil || f.Get(&en) != was {
				t.Errorf("copy %d: field %s takes its own value %q as %q (%v)", cp.Accession, f.Name, was, f.Get(&en), err)
			}
		}
		if cp.Hook.Row != 0 {
			onHook[cp.Hook]++
		}
	}
	for h, n := range onHook {
		if n > eachHook {
			t.Errorf("%d hang on hook %d, which takes %d", n, h.N, eachHook)
		}
	}
}

// What hangs looks as in a cupboard that is looked after: a few on another hook, a few
// not hung yet.
func TestDemoHooks(t *testing.T) {
	l := ordering.Arrange(demo(t))
	if elsewhere, waiting := l.Unhung(); elsewhere != 2 || waiting != 4 {
		t.Errorf("%d hang on another hook and %d on none, want 2 and 4", elsewhere, waiting)
	}
	if note := l.HookNote(); note != "hooks are not part of it: 2 out of order, 4 not hung yet" {
		t.Errorf("it is said as %q", note)
	}
}

// TestDemoTitles: names and numbers come twice only where that is meant.
func TestDemoTitles(t *testing.T) {
	c := demo(t)
	reissued := map[string]bool{}
	for _, cp := range c.Copies().All() {
		if strings.HasPrefix(cp.Notes, "reissue of ") {
			reissued[c.Pattern(cp.Pattern).Name] = true
		}
	}
	numbers, names, reused := map[string]*model.Pattern{}, map[string]*model.Pattern{}, 0
	for _, p := range c.Patterns().All() {
		pub := c.Publisher(p.Publisher)
		n := model.ParseNumber(p.Number, pub.Numbers)
		if other := names[words.Fold(p.Name)]; other != nil && !reissued[p.Name] {
			if m := model.ParseNumber(other.Number, pub.Numbers); other.Publisher != p.Publisher || n.Key() != m.Key() || n.Size == m.Size {
				t.Errorf("two patterns are called %q: %s and %s", p.Name, other.Heading(), p.Heading())
			}
		}
		names[words.Fold(p.Name)] = p
		if p.Number == "" {
			continue
		}
		key := pub.Name + " " + n.Key() + " " + n.Size
		if other := numbers[key]; other != nil {
			reused++
			if other.Year == p.Year || other.Name == p.Name {
				t.Errorf("%q is used twice with nothing to tell the two apart: %d %q and %d %q", key, other.Year, other.Name, p.Year, p.Name)
			}
		}
		numbers[key] = p
	}
	if reused < 5 || reused > 12 {
		t.Errorf("%d numbers are used again; some are meant to be, but not by accident", reused)
	}
}

func TestDemoHasSecondCopiesUncutAndCut(t *testing.T) {
	c, states := demo(t), map[model.PatternID]map[model.Cut]bool{}
	for _, cp := range c.Copies().All() {
		if states[cp.Pattern] == nil {
			states[cp.Pattern] = map[model.Cut]bool{}
		}
		states[cp.Pattern][cp.Cut] = true
	}
	both := 0
	for _, s := range states {
		if s[model.Uncut] && s[model.FullyCut] {
			both++
		}
	}
	if both < 3 {
		t.Errorf("%d patterns are there both uncut and cut; at least 3 were meant to be", both)
	}
}

// TestDemoSpills: boxes as they stand have just room, a few envelopes stand
// wrong, and the pile needs a new box.
func TestDemoSpills(t *testing.T) {
	l := ordering.Arrange(demo(t))
	for _, h := range l.Standing() {
		if h.Overfull() || h.Load < h.Usable*8/10 {
			t.Errorf("box %s holds %s of %s; it was to be nearly full", h.Box.Name, h.Load, h.Usable)
		}
	}
	m := l.Refile()
	if n := len(m.Pull); n < 1 || n > 15 {
		t.Errorf("%d are to be pulled, wanted are 1 to 15", n)
	}
	leaves, piled := 0, 0
	for _, p := range m.Pull {
		if p.Leaves {
			leaves++
		}
	}
	for _, in := range m.Insert {
		if in.FromPile {
			piled++
		}
	}
	if leaves != 1 || piled != len(l.Waiting()) || piled < 50 {
		t.Errorf("%d leave for a hook and %d of %d are put in from the pile", leaves, piled, len(l.Waiting()))
	}
	if needs := m.Plan.Needs(); len(needs) != 1 {
		t.Errorf("refiling needs %d new boxes, wanted is 1", len(needs))
	}
	split := l.Split(ordering.Fewest)
	if needs := split.Needs(); len(needs) != 1 {
		t.Errorf("the split needs %d new boxes, wanted is 1", len(needs))
	}
}

// TestDemoMisplaced: what was stood in the boxes at first is in filing order;
// what is found later is not.
func TestDemoMisplaced(t *testing.T) {
	l := ordering.Arrange(demo(t))
	var stands []*model.Stand
	for _, e := range Demo().Events {
		if s, ok := e.Change.(*model.Stand); ok {
			stands = append(stands, s)
		}
	}
	if len(stands) != 2 {
		t.Fatalf("the boxes are filled %d times, wanted is 2", len(stands))
	}
	for i, wrong := range []bool{false, true} {
		var ranks []int
		for _, r := range stands[i].Rows {
			for _, a := range r.Copies {
				if rank := l.Rank(a); rank >= 0 {
					ranks = append(ranks, rank)
				}
			}
		}
		if len(ranks) < 320 || slices.IsSortedFunc(ranks, cmp.Compare) == wrong {
			t.Errorf("filling %d of %d envelopes: wanted misplaced ones: %t", i+1, len(ranks), wrong)
		}
	}
}
