package press

import (
	"cmp"
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper"
)

type keys struct {
	up, down, moves, left, right, sheets, page, back, scroll key.Binding
	large, small, write, stop                                key.Binding
	take, leave                                              key.Binding
	fresh, form, paper, labels, start, code, on              key.Binding
	upright, alone, spine, part, tape                        key.Binding
}

func newKeys() keys {
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	return keys{
		up: bind("up", "one up", "up"), down: bind("down", "one down", "down"), moves: bind("up/down", "what", "up", "down"),
		left: bind("left", "the sheet before", "left"), right: bind("right", "next sheet", "right"), sheets: bind("left/right", "sheet", "left", "right"),
		page: bind("pgdn", "further down", "pgdown"), back: bind("pgup", "further up", "pgup"), scroll: bind("pgup/pgdn", "further", "pgup", "pgdown"),
		large: bind("v", "larger", "v"), small: bind("esc", "smaller", "esc"),
		write: bind("enter", "write the file", "enter"), stop: bind("esc", "stop waiting", "esc"),
		take: bind("enter", "take it", "enter"), leave: bind("esc", "back", "esc"),
		fresh: bind("n", "new only", "n"), form: bind("f", "form", "f"), paper: bind("p", "paper", "p"),
		labels: bind("l", "labels", "l"), start: bind("s", "start", "s"), code: bind("c", "code", "c"), on: bind("o", "on", "o"),
		upright: bind("u", "upright", "u"), alone: bind("a", "cut to size", "a"), spine: bind("w", "spine", "w"), part: bind("t", "part", "t"),
		tape: bind("h", "tape", "h"),
	}
}

// ShortHelp implements help.KeyMap. The keys of what can be set stand beside it
// where there is room for that.
func (s *Screen) ShortHelp() []key.Binding {
	k := s.keys
	if s.asks != nothing {
		take := k.take
		switch {
		case s.over != "":
			take.SetHelp("enter", "replace it")
		case s.asks == fileAsked:
			take.SetHelp("enter", "write it")
		}
		return []key.Binding{take, k.leave}
	}
	if s.waiting() {
		return []key.Binding{k.stop, k.moves}
	}
	var keys []key.Binding
	if s.ready() && s.shown.err == nil && s.writing == 0 {
		keys = append(keys, k.write)
	}
	if !s.large {
		keys = append(keys, k.moves)
	}
	if s.ready() && len(s.shown.sheets) > 1 {
		keys = append(keys, k.sheets)
	}
	if s.most > 0 {
		keys = append(keys, k.scroll)
	}
	if s.large {
		return append(keys, k.small)
	}
	if s.ready() && s.shown.err == nil {
		keys = append(keys, k.large)
	}
	for _, set := range s.settings() {
		keys = append(keys, set.key)
	}
	return keys
}

// FullHelp implements help.KeyMap.
func (s *Screen) FullHelp() [][]key.Binding {
	long := func(b key.Binding, name, what string) key.Binding {
		b.SetHelp(name, what)
		return b
	}
	k := s.keys
	all := []key.Binding{
		long(k.moves, "up, down", "what is to be printed"),
		long(k.sheets, "left, right", "another sheet"),
		long(k.scroll, "pgup, pgdn", "further up or down on the sheet"),
		long(k.large, "v", "the sheet as large as the screen; esc: back"),
		long(k.write, "enter", "write it into a file"),
	}
	for _, set := range s.settings() {
		all = append(all, long(set.key, set.key.Help().Key, set.long))
	}
	return [][]key.Binding{all}
}

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	if s.asks != nothing {
		return s.onField(msg)
	}
	k := s.keys
	switch {
	case key.Matches(msg, k.up) && !s.large:
		s.turnTo(max(0, s.at-1))
	case key.Matches(msg, k.down) && !s.large:
		s.turnTo(min(len(paper.Kinds())-1, s.at+1))
	case key.Matches(msg, k.left):
		s.turnPage(-1)
	case key.Matches(msg, k.right):
		s.turnPage(+1)
	case key.Matches(msg, k.page):
		s.top = min(s.most, s.top+max(1, s.h/2))
	case key.Matches(msg, k.back):
		s.top = max(0, s.top-max(1, s.h/2))
	case key.Matches(msg, k.small) && s.waiting():
		s.halted = true
	case key.Matches(msg, k.small):
		s.large, s.top = false, 0
	case key.Matches(msg, k.large) && s.ready() && s.shown.err == nil:
		s.large, s.top = !s.large, 0
	case key.Matches(msg, k.write) && s.ready() && s.shown.err == nil && s.writing == 0:
		s.ask(fileAsked, s.fileName())
	case !s.large:
		for _, set := range s.settings() {
			if key.Matches(msg, set.key) {
				s.halted, s.page, s.top = false, 0, 0
				set.do()
				break
			}
		}
	}
	return nil
}

func (s *Screen) turnPage(by int) {
	if s.ready() && len(s.shown.sheets) > 0 {
		s.page, s.top = max(0, min(s.page+by, len(s.shown.sheets)-1)), 0
	}
}

func (s *Screen) onField(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, s.keys.leave):
		s.asks, s.over = nothing, ""
	case key.Matches(msg, s.keys.take):
		s.answer()
	default:
		s.over = ""
		var cmd tea.Cmd
		s.field, cmd = s.field.Update(msg)
		return cmd
	}
	return nil
}

// ask opens the field.
func (s *Screen) ask(what question, now string) {
	s.asks, s.over = what, ""
	s.field.SetValue(now)
	s.field.CursorEnd()
	s.field.Focus()
}

// setting is something that can be set: its key, what it is and stands at.
type setting struct {
	key       key.Binding
	what, now string
	long      string
	do        func()
}

// settings are those of the kind that is chosen.
func (s *Screen) settings() []setting {
	o, k, shelf := s.order(), s.keys, s.desk.Collection().Shelf()
	preset := shelf.Settings.Printing.Full()
	var all []setting
	add := func(b key.Binding, what, now, long string, do func()) {
		all = append(all, setting{key: b, what: what, now: now, long: long, do: do})
	}
	yes := func(b bool) string {
		if b {
			return "yes"
		}
		return "no"
	}
	if o.changes() {
		now, turn := "all", k.fresh
		if o.onlyNew {
			now = "new only"
			turn.SetHelp("n", "all")
		}
		add(turn, "which", now, "only what is new, or all", func() { o.onlyNew = !o.onlyNew })
	}
	switch o.Kind {
	case paper.EnvelopesKind:
		all = append(all, s.labelSettings(o, preset)...)
	case paper.DividersKind, paper.OutCardsKind:
		add(k.on, "envelope", cmp.Or(o.Envelope, shelf.Settings.Envelope), "the envelopes that the cards stand among", func() {
			o.Envelope = after(names(model.Envelopes()), cmp.Or(o.Envelope, shelf.Settings.Envelope))
		})
		add(k.upright, "upright", yes(o.Upright), "the envelopes stand on their short side", func() { o.Upright = !o.Upright })
		add(k.alone, "cut to size", yes(o.Alone), "each card is a sheet of its own, for card cut to size", func() { o.Alone = !o.Alone })
	case paper.BindersKind:
		add(k.part, "part", cmp.Or(slices.Concat(o.Binders.Parts, []string{""})[0], "all"), "spines, index, tabs, pages for missing sleeves, or all", func() {
			o.Binders.Parts = nextPart(o.Binders.Parts)
		})
		add(k.spine, "spine", s.theme.Length(model.MM(o.Binders.Spine)), "how wide the spine labels are", func() { s.ask(spineAsked, "") })
	}
	if o.form == asPDF && (o.Kind != paper.EnvelopesKind) {
		now := cmp.Or(o.paper, preset.Paper)
		add(k.paper, "paper", now, "A4, Letter or A3", func() { o.paper = after(names(model.Papers()), now) })
	}
	add(k.form, "as", string(o.form), "as PDF, as text, or for a tape printer", func() { o.form = after(o.forms(), o.form) })
	if o.form == asTape {
		add(k.tape, "tape", s.theme.Length(model.MM(o.tape)), "how high the tape is", func() { s.ask(tapeAsked, "") })
	}
	return all
}

// labelSettings are those of envelope labels.
func (s *Screen) labelSettings(o *order, preset model.Printing) []setting {
	k := s.keys
	on := cmp.Or(o.On, "labels")
	all := []setting{{key: k.on, what: "on", now: on, long: "on label sheets, or straight on envelopes", do: func() {
		if o.On = after(append([]string{"labels"}, names(model.Envelopes())...), on); o.On == "labels" {
			o.On = ""
		}
	}}}
	if o.On == "" {
		now := cmp.Or(o.Labels, preset.Labels)
		var sheets []string
		for _, l := range append(slices.Clone(s.desk.Collection().Shelf().Labels), model.LabelSheets()...) {
			sheets = append(sheets, l.Name)
		}
		all = append(all,
			setting{key: k.labels, what: "sheet", now: now, long: "another label sheet", do: func() { o.Labels, o.Start = after(sheets, now), 1 }},
			setting{key: k.start, what: "from label", now: itoa(o.Start), long: "the first label that is left on the sheet", do: func() { s.ask(startAsked, "") }})
	}
	code := cmp.Or(o.Code, preset.Code)
	return append(all, setting{key: k.code, what: "code", now: code, long: "Code 128, QR or no code", do: func() {
		o.Code = after([]string{model.Code128, model.CodeQR, model.NoCode}, code)
	}})
}

// after is the one behind it, and behind the last the first.
func after[T comparable](all []T, now T) T { return all[(slices.Index(all, now)+1)%len(all)] }

func names(all []model.Paper) []string {
	out := make([]string, len(all))
	for i, p := range all {
		out[i] = p.Name
	}
	return out
}

// nextPart goes from all parts of binders through each.
func nextPart(parts []string) []string {
	all := paper.BinderParts()
	switch {
	case len(parts) == 0:
		return all[:1]
	case parts[0] == all[len(all)-1]:
		return nil
	}
	return []string{after(all, parts[0])}
}
