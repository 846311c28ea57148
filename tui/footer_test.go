package tui_test

import (
	"strconv"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/intake"
)

// states are what Intake and Find can be in, by the keys that lead there.
var states = []struct {
	name, room string
	keys       []string
}{
	{"intake, just opened", intake.ID, nil},
	{"intake, publisher", intake.ID, []string{"shift+tab"}},
	{"intake, choosing", intake.ID, []string{"shift+tab", "'q"}},
	{"intake, number", intake.ID, []string{"'6123"}},
	{"intake, barcode typed", intake.ID, []string{"'6291041500213"}},
	{"intake, barcode a number", intake.ID, []string{"'6291041500213", "ctrl+g"}},
	{"intake, owned", intake.ID, []string{"'4107"}},
	{"intake, owned, its own pattern", intake.ID, []string{"'4107", "ctrl+o"}},
	{"intake, name, proposed", intake.ID, []string{"'1", "enter", "'Belted coat"}},
	{"intake, proposal taken", intake.ID, []string{"'1", "enter", "'Belted coat", "ctrl+y"}},
	{"intake, aside", intake.ID, []string{"'1", "ctrl+x"}},
	{"intake, thrown away", intake.ID, []string{"'1", "ctrl+d"}},
	{"intake, no batch", intake.ID, []string{"shift+tab", "shift+tab", "ctrl+u", "'attic", "tab"}},
	{"intake, entered", intake.ID, []string{"'1", "enter", "enter"}},
	{"intake, latest entry", intake.ID, []string{"ctrl+e"}},
	{"intake, earlier entry, changed", intake.ID, []string{"ctrl+e", "ctrl+e", "tab", "'x"}},
	{"intake, earlier entry, as it was", intake.ID, []string{"ctrl+e", "ctrl+e", "tab", "'x", "ctrl+x"}},
	{"intake, first entry", intake.ID, []string{"ctrl+e", "pgup", "pgup", "pgup", "pgup", "pgup", "pgup", "pgup", "pgup", "pgup"}},
	{"intake, how many", intake.ID, []string{"ctrl+a", "'5"}},
	{"intake, sleeves", intake.ID, []string{"ctrl+t"}},
	{"intake, envelopes", intake.ID, []string{"ctrl+t", "'b", "tab"}},
	{"intake, nothing at the step", intake.ID, []string{"ctrl+t", "tab", "tab", "tab"}},
	{"intake, error", intake.ID, []string{"tab", "tab", "tab", "tab", "'soon", "enter"}},
	{"find, nothing typed", find.ID, nil},
	{"find, one", find.ID, []string{"'belted"}},
	{"find, the first of several", find.ID, []string{"'coat"}},
	{"find, the last of several", find.ID, []string{"'coat", "down", "down", "down"}},
	{"find, nothing found", find.ID, []string{"'zzzzz"}},
	{"find, out", find.ID, []string{"'belted", "ctrl+o"}},
	{"find, out list", find.ID, []string{"'belted", "ctrl+o", "ctrl+u"}},
	{"find, lending", find.ID, []string{"'belted", "ctrl+l", "'Nan"}},
	{"find, coming back", find.ID, []string{"'belted", "ctrl+n", "ctrl+f"}},
}

func inState(t *testing.T, room string, keys []string) *player {
	p := play(t, room, wardrobe(), drawer("hall drawer", 3), &model.Tick{Copies: []model.Accession{1, 2}, Step: model.StepSleeve})
	p.size(300, 24)
	p.hit(keys...)
	return p
}

// footer gives the keys of the footer with what they do.
func (p *player) footer() map[string]string {
	lines := strings.Split(p.root.View(), "\n")
	out := map[string]string{}
	for _, l := range lines[len(lines)-2:] {
		for _, entry := range strings.Split(l, "   ") {
			if entry = strings.TrimSpace(entry); entry != "" {
				name, does, _ := strings.Cut(entry, " ")
				if name == "30" {
					name, does = "30 space", strings.TrimPrefix(does, "space ")
				}
				out[name] = does
			}
		}
	}
	return out
}

// The footer says only keys that work now: each changes what is seen or stored.
// ctrl+q is tried elsewhere, and Enter on what was just refused is refused again.
func TestEachKeyInTheFooterWorks(t *testing.T) {
	for _, x := range states {
		t.Run(x.name, func(t *testing.T) {
			shown := inState(t, x.room, x.keys).footer()
			if len(shown) < 4 {
				t.Fatalf("the footer is %v", shown)
			}
			for name, does := range shown {
				if name == "ctrl+q" || name == "enter" && x.name == "intake, error" {
					continue
				}
				p := inState(t, x.room, x.keys)
				before, rev := p.root.View(), p.listed().Rev()
				for _, k := range strings.Fields(strings.ReplaceAll(name, "/down", "")) {
					if len(k) == 1 || k == "30" {
						k = "'" + k
					}
					p.hit(k)
				}
				if p.root.View() == before && p.listed().Rev() == rev {
					t.Errorf("%s (%s) does nothing", name, does)
				}
			}
		})
	}
}

// The header says in every state how many are at which step.
func TestTheHeaderCountsInEveryState(t *testing.T) {
	for _, x := range states {
		p := inState(t, x.room, x.keys)
		n := p.listed().Steps()
		head := strings.Split(p.root.View(), "\n")[0]
		for _, step := range model.Steps() {
			if want := " " + step.String() + " " + strconv.Itoa(n[step]); !strings.Contains(head, want) {
				t.Errorf("%s: the header is %q, want%s in it", x.name, head, want)
			}
		}
	}
}

// What Enter does is said of the field that it is pressed in.
func TestTheFooterSaysWhatEnterDoesInTheField(t *testing.T) {
	for _, x := range []struct {
		keys []string
		want string
	}{
		{[]string{"shift+tab"}, "to the number"},
		{[]string{"'4107"}, "to the name"},
		{[]string{"'4107", "enter"}, "done"},
		{[]string{"'6291041500213"}, "take the barcode"},
		{[]string{"'1", "tab", "tab"}, "done"},
		{[]string{"ctrl+e"}, "to the name"},
		{[]string{"ctrl+e", "enter"}, "save"},
	} {
		p := inState(t, intake.ID, x.keys)
		if got := p.footer()["enter"]; got != x.want {
			t.Errorf("%v: enter is said to do %q, want %q", x.keys, got, x.want)
		}
	}
}

// A key that works in Intake only says so elsewhere.
func TestIntakesKeysSayWhereTheyWork(t *testing.T) {
	for _, k := range []string{"ctrl+t", "ctrl+a", "ctrl+x", "ctrl+g"} {
		p := inState(t, find.ID, []string{"'coat"})
		p.hit(k)
		p.mustShow(k+" works in Intake: ", "ctrl+n goes there", "Look for  coat")
	}
}
