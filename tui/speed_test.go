package tui_test

import (
	"math/rand/v2"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/binders"
	"example.org/tuckrow/tui/buying"
	"example.org/tuckrow/tui/collection"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/intake"
	"example.org/tuckrow/tui/press"
	"example.org/tuckrow/tui/refile"
	"example.org/tuckrow/tui/sewing"
	"example.org/tuckrow/tui/shelf"
	"example.org/tuckrow/tui/split"
	"example.org/tuckrow/tui/stocktake"
)

// hand is somebody who goes on pressing keys.
type hand struct {
	*rand.Rand
	c *model.Collection
}

// any is some pattern that is listed.
func (h hand) any() *model.Pattern {
	for {
		if p := h.c.PatternOf(model.Accession(1 + h.IntN(h.c.Copies().Len()))); p != nil {
			return p
		}
	}
}

// remembered is what one remembers of some pattern, one time in eight with a
// typing error.
func (h hand) remembered() string {
	p := h.any()
	text := []rune(p.Name)
	switch h.IntN(4) {
	case 0:
		text = []rune(h.c.Publisher(p.Publisher).Name + " " + p.Number)
	case 1:
		text = []rune(p.Number + " " + p.Name)
	}
	if i := h.IntN(max(1, len(text)-1)); h.IntN(8) == 0 && len(text) > 3 {
		text[i], text[i+1] = text[i+1], text[i]
	}
	return string(text[:min(len(text), 24)])
}

func (h hand) number() string { return strconv.Itoa(100 + h.IntN(9900)) }

// some gives a few of these keys.
func (h hand) some(names ...string) []string {
	out := make([]string, 8)
	for i := range out {
		out[i] = names[h.IntN(len(names))]
	}
	return out
}

// usual are the states that rooms are in while one works: the keys that lead
// there, and what the hand goes on with.
var usual = []struct {
	name, room string
	lead       []string
	goesOn     func(h hand) []string
}{
	{"intake/entries", intake.ID, nil, func(h hand) []string {
		keys := []string{"'" + h.number(), "enter", "'" + h.any().Name, "enter"}
		switch h.IntN(3) {
		case 0:
			keys = append([]string{"shift+tab", "'" + h.c.Publisher(h.any().Publisher).Name[:2], "enter"}, keys...)
		case 1:
			keys = append(keys[:3], "tab", "'"+strings.ToLower(h.c.Category(h.any().Category).Name[:1]), "enter")
		}
		return keys
	}},
	{"intake/owned", intake.ID, nil, func(h hand) []string {
		p := h.any()
		return []string{"shift+tab", "'" + h.c.Publisher(p.Publisher).Name, "enter", "'" + p.Number, "ctrl+o", "enter", "'" + p.Name, "ctrl+u", "esc", "ctrl+u"}
	}},
	{"intake/earlier", intake.ID, []string{"ctrl+e"}, func(h hand) []string { return h.some("ctrl+e", "ctrl+e", "pgdown", "'x", "tab") }},
	{"intake/steps", intake.ID, []string{"ctrl+t", "'b"}, func(h hand) []string {
		return h.some("down", "up", "space", "pgdown", "pgup", "'a", "'r", "tab", "'3", "'b")
	}},
	{"find/typing", find.ID, nil, func(h hand) []string { return []string{"'" + h.remembered(), "down", "down", "up", "ctrl+u"} }},
	{"find/out_and_back", find.ID, []string{"'dress"}, func(h hand) []string { return h.some("down", "up", "ctrl+o") }},
	{"find/same", find.ID, nil, func(h hand) []string {
		return []string{"ctrl+u", "'" + h.remembered(), "ctrl+y", "down", "up", "enter", "'" + h.remembered(), "down", "enter", "down", "space", "'x", "end", "up", "esc", "esc", "esc"}
	}},
	{"refile/pull", refile.ID, []string{"enter"}, func(h hand) []string { return h.some("enter", "enter", "'s", "'n", "up", "down", "ctrl+z") }},
	{"refile/put", refile.ID, []string{"enter", "tab", "tab"}, func(h hand) []string { return h.some("enter", "enter", "'s", "up", "down", "ctrl+z") }},
	{"split/plan", split.ID, nil, func(h hand) []string {
		return h.some("down", "up", "down", "up", "down", "up", "pgdown", "pgup", "pgdown", "pgup", "home", "end", "'k", "'g")
	}},
	{"split/labels", split.ID, []string{"'p"}, func(h hand) []string { return h.some("down", "up", "pgdown", "pgup", "home", "end") }},
	{"split/answers", split.ID, []string{"'a"}, func(h hand) []string { return h.some("down", "up") }},
	{"print/sheets", press.ID, nil, func(h hand) []string {
		return h.some("right", "left", "pgdown", "pgup", "'v", "'c", "'l", "down", "up")
	}},
	{"shelf/cupboard", shelf.ID, nil, func(h hand) []string { return h.some("down", "up", "right", "left", "pgdown", "pgup", "home", "end") }},
	{"shelf/box", shelf.ID, []string{"enter"}, func(h hand) []string { return h.some("down", "up", "right", "right", "pgdown", "home", "end") }},
	{"shelf/reading", shelf.ID, []string{"'r"}, func(h hand) []string {
		return []string{"'" + []string{h.number(), h.remembered(), "-"}[h.IntN(3)], "enter", "backspace"}
	}},
	{"shelf/edit", shelf.ID, []string{"'e"}, func(h hand) []string { return h.some("down", "up", "pgdown", "home", "end", "'>", "'<") }},
	{"binders/leafing", binders.ID, nil, func(h hand) []string {
		return h.some("down", "up", "right", "left", "tab", "shift+tab", "pgdown", "pgup", "home", "end", "space", "esc")
	}},
	{"binders/chosen", binders.ID, []string{"'c", "'dress", "enter"}, func(h hand) []string { return h.some("down", "up", "pgdown", "home", "space", "right", "esc") }},
	{"buying/typing", buying.ID, nil, func(h hand) []string { return []string{"'" + h.remembered(), "down", "down", "up", "ctrl+u"} }},
	{"buying/spare", buying.ID, []string{"tab"}, func(h hand) []string { return h.some("down", "up", "pgdown", "pgup", "home", "end") }},
	{"sewing/next", sewing.ID, nil, func(h hand) []string { return h.some("down", "up", "pgdown", "home", "space", "esc", "'q", "'<", "'>") }},
	{"sewing/shares", sewing.ID, []string{"tab", "tab"}, func(h hand) []string { return h.some("down", "up", "home", "end") }},
	{"sewing/form", sewing.ID, []string{"'m", "tab"}, func(h hand) []string { return h.some("'a", "tab", "shift+tab", "backspace") }},
	{"collection/supplies", collection.ID, nil, func(h hand) []string { return h.some("down", "up", "home", "end") }},
	{"collection/batches", collection.ID, []string{"tab", "tab"}, func(h hand) []string { return h.some("down", "up", "pgdown", "pgup", "home", "end") }},
	{"stocktake/counting", stocktake.ID, []string{"enter"}, func(h hand) []string {
		return h.some("space", "space", "space", "space", "tab", "backspace", "'"+h.number(), "enter", "ctrl+u")
	}},
	{"stocktake/strangers", stocktake.ID, []string{"enter"}, func(h hand) []string { // the first in each box that is not recorded there
		p := h.any()
		return []string{"'" + []string{h.number(), p.Name, h.c.Publisher(p.Publisher).Name + " " + p.Short()}[h.IntN(3)],
			"enter", "ctrl+u", "backspace", "esc", h.some("down", "down", "up", "pgdown", "home")[0], "enter"}
	}},
	{"stocktake/differs", stocktake.ID, []string{"enter", "ctrl+e", "tab"}, func(h hand) []string { return h.some("down", "up", "pgdown", "home", "end") }},
	{"shelf/form", shelf.ID, []string{"'e", "enter"}, func(h hand) []string { return h.some("tab", "'6123", "backspace", "shift+tab") }},
}

// BenchmarkKeystroke is one key of many different ones at 60,000 copies, on a
// large terminal in true colour: Update and View, and the same again for all
// that comes back of it, a write that has ended or what was worked out. What is
// done aside, the writing and the working out, is not in it.
//
// It reports the time that half of the keys and that 99 of 100 stay below, by
// the clock and, where the system tells, by the processor: the machine may have
// other work.
func BenchmarkKeystroke(b *testing.B) {
	c := sample.Cupboard(60_000)
	for _, x := range usual {
		b.Run(x.name, func(b *testing.B) {
			p := onSample(b, x.room, c)
			*p.theme = *guises[0].theme()
			p.size(120, 40)
			p.keys(x.lead...)
			h := hand{rand.New(rand.NewPCG(60_000, 1)), c}
			runtime.LockOSThread()
			defer runtime.UnlockOSThread()
			var took, worked []time.Duration
			var next []tea.KeyMsg
			for b.Loop() {
				if len(next) == 0 {
					next = messages(b, x.goesOn(h)...)
				}
				t, w := p.timed(b, next[0])
				took, worked, next = append(took, t), append(worked, w), next[1:]
			}
			report(b, "", took)
			report(b, "cpu-", worked)
		})
	}
}

// timed gives a key, and all that comes of it, to the interface, and tells how
// long that took, by the clock and by the processor.
func (p *player) timed(b *testing.B, key tea.Msg) (took, worked time.Duration) {
	for queue := []tea.Msg{key}; len(queue) > 0; {
		began, from := time.Now(), threadTime()
		_, cmd := p.root.Update(queue[0])
		_ = p.root.View()
		took, worked = took+time.Since(began), worked+threadTime()-from
		b.StopTimer()
		queue = append(queue[1:], done(cmd)...)
		b.StartTimer()
	}
	return took, worked
}

// done runs commands and gives what comes of them.
func done(cmd tea.Cmd) []tea.Msg {
	if cmd == nil {
		return nil
	}
	switch msg := cmd().(type) {
	case nil:
		return nil
	case tea.BatchMsg:
		var all []tea.Msg
		for _, c := range msg {
			all = append(all, done(c)...)
		}
		return all
	default:
		return []tea.Msg{msg}
	}
}

func report(b *testing.B, what string, times []time.Duration) {
	slices.Sort(times)
	ms := func(at int, name string) {
		b.ReportMetric(float64(times[min(at, len(times)-1)])/float64(time.Millisecond), what+name+"-ms")
	}
	ms(len(times)/2, "p50")
	ms(len(times)*99/100, "p99")
	ms(len(times), "max")
}

// BenchmarkFirstScreen is what stands between starting and the first screen,
// when the store is open.
func BenchmarkFirstScreen(b *testing.B) {
	p := onSample(b, intake.ID, sample.Cupboard(60_000))
	for b.Loop() {
		p.open(intake.ID, p.theme)
		_ = p.root.View()
	}
}
