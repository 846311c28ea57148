package stocktake

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/ordering/reading"
	"example.org/tuckrow/tui/form"
)

type keys struct {
	up, down, pageDown, pageUp, first, last, moves key.Binding
	begin, anew, differs, report                   key.Binding
	here, read, gone, end, back, leave             key.Binding
	boxes, lost, place, pull, enter, find, let     key.Binding
	again                                          key.Binding
	short, goOn                                    key.Binding
	save                                           key.Binding
}

func newKeys() keys {
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	return keys{
		up: bind("up", "one up", "up"), down: bind("down", "one down", "down"),
		pageDown: bind("pgdn", "a page down", "pgdown"), pageUp: bind("pgup", "a page up", "pgup"),
		first: bind("home", "first", "home"), last: bind("end", "last", "end"),
		moves:   bind("up, down, pgup, pgdn, home, end", "to another", "up", "down", "pgup", "pgdown", "home", "end"),
		begin:   bind("enter", "count the box", "enter"),
		anew:    bind("c", "another stocktake", "c"),
		differs: bind("tab", "what differs", "tab"),
		report:  bind("w", "write report", "w"),
		here:    bind("space", "it is here", " "),
		read:    bind("enter", "read", "enter"),
		gone:    bind("tab", "not here", "tab"),
		end:     bind("ctrl+e", "end of the box", "ctrl+e"),
		back:    bind("backspace", "take back", "backspace"),
		leave:   bind("esc", "leave", "esc"),
		boxes:   bind("tab", "boxes", "tab", "esc"),
		lost:    bind("m", "note missing", "m"),
		place:   bind("r", "record it there", "r"),
		pull:    bind("p", "pulled", "p"),
		enter:   bind("n", "enter it", "n"),
		find:    bind("f", "show in Find", "f"),
		let:     bind("x", "leave it", "x"),
		again:   bind("enter", "count the box again", "enter"),
		short:   bind("enter", "not there", "enter"),
		goOn:    bind("esc", "go on counting", "esc"),
		save:    bind("enter", "write it", "enter"),
	}
}

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	k := s.keys
	switch s.stage {
	case counting:
		return s.countKeys()
	case ending:
		return []key.Binding{k.short, k.goOn}
	case naming:
		return []key.Binding{k.save, k.leave}
	case settling:
		return append([]key.Binding{k.boxes}, append(s.matterKeys(), k.report)...)
	}
	var keys []key.Binding
	if len(s.boxes()) > 0 {
		keys = append(keys, k.begin)
	}
	if s.done() > 0 {
		keys = append(keys, k.differs, k.report)
	}
	if s.begun != "" {
		keys = append(keys, k.anew)
	}
	return keys
}

func (s *Screen) countKeys() []key.Binding {
	k := s.keys
	if s.field.Value() != "" {
		return []key.Binding{k.read, k.leave}
	}
	keys := []key.Binding{k.end}
	if s.expected() != 0 {
		keys = []key.Binding{k.here, k.gone, k.end}
	}
	if len(s.count().steps) > 0 {
		keys = append(keys, k.back)
	}
	return append(keys, k.leave)
}

// matterKeys are those that settle the matter that is chosen.
func (s *Screen) matterKeys() []key.Binding {
	k, m := s.keys, s.chosen()
	switch m.What {
	case reading.Lost:
		return []key.Binding{k.lost, k.again, k.find, k.let}
	case reading.Elsewhere, reading.Wrong:
		return []key.Binding{k.place, k.pull, k.again, k.find, k.let}
	case reading.NoList:
		return []key.Binding{k.enter, k.again, k.let}
	case reading.ReadTwice:
		return []key.Binding{k.again, k.find, k.let}
	case reading.Unclear:
		return []key.Binding{k.again, k.let}
	}
	return nil
}

// FullHelp implements help.KeyMap.
func (s *Screen) FullHelp() [][]key.Binding {
	long := func(b key.Binding, name, what string) key.Binding {
		b.SetHelp(name, what)
		return b
	}
	k := s.keys
	leave := long(k.leave, "esc", "leave; what is counted and typed stays, also when the program ends")
	switch s.stage {
	case counting:
		return [][]key.Binding{{long(k.here, "space", "the expected envelope stands here, or its out card"),
			long(k.read, "enter", "another stands here: its number, #accession or name, typed or scanned; - is a gap or an out card"),
			long(k.gone, "tab", "the expected one does not stand here: on to the next"), long(k.end, "ctrl+e", "nothing more stands in the box: it is counted, and what was not found is short; asks first where some were not gone through"),
			long(k.back, "backspace", "take the last one back"), leave}}
	case ending:
		return [][]key.Binding{{long(k.short, "enter", "that was all of the box: what was not gone through is not there; the box is counted"),
			long(k.goOn, "esc", "go on counting; nothing is lost")}}
	case naming:
		return [][]key.Binding{append([]key.Binding{long(k.save, "enter", "write the report into that file"), k.leave}, form.Help()...)}
	case settling:
		all := []key.Binding{k.moves}
		for _, b := range s.matterKeys() {
			all = append(all, long(b, b.Help().Key, settles[b.Help().Desc]))
		}
		return [][]key.Binding{append(all, k.report, long(k.boxes, "tab or esc", "back to the boxes"))}
	}
	return [][]key.Binding{{k.moves, long(k.begin, "enter", "count the box, or go on with it; the next one in walking order is chosen after it"),
		long(k.differs, "tab", "what differs in the boxes that are counted"), long(k.report, "w", "write what was counted and what differs into a text file"),
		long(k.anew, "c", "begin another stocktake: what was counted is forgotten, what was settled stays settled")}}
}

// settles says at length what the keys of a matter do.
var settles = map[string]string{
	"note missing":        "note it as missing: it has no place until it turns up",
	"record it there":     "its place is where it was found; where that is not its place in filing order, Refile has it on its list of what to pull",
	"pulled":              "you have pulled it: it waits on the to-file pile, and Refile says where it goes",
	"enter it":            "go to Intake to enter it; then it can be recorded where it was found",
	"show in Find":        "show it in Find",
	"leave it":            "leave it as it is; it stays in the report",
	"count the box again": "go back into the box that it was read in",
}

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	switch s.stage {
	case counting:
		return s.onCountKey(msg)
	case ending:
		return s.onEndKey(msg)
	case naming:
		return s.onNameKey(msg)
	case settling:
		return s.onMatterKey(msg)
	}
	k := s.keys
	switch {
	case key.Matches(msg, k.begin) && len(s.boxes()) > 0:
		s.begin()
	case key.Matches(msg, k.differs) && s.done() > 0:
		s.stage = settling
	case key.Matches(msg, k.report) && s.done() > 0:
		s.name()
	case key.Matches(msg, k.anew) && s.begun != "":
		s.restart("")
		return s.keep()
	default:
		s.at += s.step(msg, len(s.boxes()))
	}
	return nil
}

// step is how far a key moves in a list of n.
func (s *Screen) step(msg tea.KeyMsg, n int) int {
	k, page := s.keys, max(1, s.h/2)
	switch {
	case key.Matches(msg, k.up):
		return -1
	case key.Matches(msg, k.down):
		return +1
	case key.Matches(msg, k.pageUp):
		return -page
	case key.Matches(msg, k.pageDown):
		return +page
	case key.Matches(msg, k.first):
		return -n
	case key.Matches(msg, k.last):
		return +n
	}
	return 0
}
