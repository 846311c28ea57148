// Package files is naming a file in the interface: a path as somebody types it,
// and how it goes on.
//
// The usual way in is [NewPicker], a field in which a file that is there is chosen.
//
// Promised: no key waits for the disk: folders are looked into aside, by whoever
// asks [Picker.Wants]; nothing is opened or changed; no line is wider than told.
package files

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/theme"
)

// inField is where one is while no name of the list is chosen.
const inField = -1

// Picker is a field for the path of a file that is there, with what could be
// meant below it.
type Picker struct {
	in     textinput.Model
	suits  func(name string) bool // files that are shown
	folder string                 // the folder that was looked into last
	names  []string               // in it; a folder ends in a separator
	failed error
	looked bool // into the folder
	at     int
}

// NewPicker makes a picker that shows files that suit, and all folders.
func NewPicker(suits func(name string) bool) *Picker {
	p := &Picker{in: textinput.New(), suits: suits, at: inField}
	p.in.Prompt, p.in.CharLimit = "", 1000
	p.in.Cursor.SetMode(cursor.CursorStatic) // one that blinks would redraw twice a second
	p.in.Focus()
	return p
}

// Folder is what was found in a folder.
type Folder struct {
	Path  string
	Names []string // a folder ends in a separator
	Err   error
}

// Look looks into a folder. It is for a goroutine aside.
func Look(path string) Folder {
	f := Folder{Path: path}
	list, err := os.ReadDir(path)
	f.Err = err
	for _, e := range list {
		name, dir := e.Name(), e.IsDir()
		if e.Type()&os.ModeSymlink != 0 {
			if to, err := os.Stat(filepath.Join(path, name)); err == nil {
				dir = to.IsDir()
			}
		}
		if dir {
			name += string(filepath.Separator)
		}
		f.Names = append(f.Names, name)
	}
	slices.SortStableFunc(f.Names, func(a, b string) int { return strings.Compare(strings.ToLower(a), strings.ToLower(b)) })
	return f
}

// split is the folder that is typed, as it is typed, and the beginning of a name
// in it.
func (p *Picker) split() (dir, begins string) {
	typed := p.in.Value()
	if typed == "~" {
		return "~/", ""
	}
	at := strings.LastIndexByte(typed, filepath.Separator) + 1
	return typed[:at], typed[at:]
}

// Wants is the folder that is to be looked into for what is typed; empty where it
// was already.
func (p *Picker) Wants() string {
	dir, _ := p.split()
	path, err := form.Path(dir)
	if err != nil || p.looked && path == p.folder {
		return ""
	}
	return path
}

// Take takes what was found in a folder. One that is not wanted any more is left
// alone.
func (p *Picker) Take(f Folder) {
	if f.Path != p.Wants() {
		return
	}
	p.folder, p.failed, p.looked, p.names, p.at = f.Path, f.Err, true, nil, inField
	for _, name := range f.Names {
		if strings.HasSuffix(name, string(filepath.Separator)) || p.suits(name) {
			p.names = append(p.names, name)
		}
	}
}

// Again has the folder looked into anew.
func (p *Picker) Again() { p.looked = false }

// Value is what is typed.
func (p *Picker) Value() string { return strings.TrimSpace(p.in.Value()) }

// Meant are the names that go on as it is typed; those that begin with a dot only
// where that is typed.
func (p *Picker) Meant() []string {
	_, begins := p.split()
	var out []string
	for _, name := range p.names {
		if len(name) >= len(begins) && strings.EqualFold(name[:len(begins)], begins) && (begins != "" || name[0] != '.') {
			out = append(out, name)
		}
	}
	return out
}

// The keys of a picker.
var (
	up       = key.NewBinding(key.WithKeys("up"), key.WithHelp("up", "one up"))
	down     = key.NewBinding(key.WithKeys("down"), key.WithHelp("down", "into the list"))
	complete = key.NewBinding(key.WithKeys("tab"), key.WithHelp("tab", "go on with the name"))
)

// Keys are those that work now.
func (p *Picker) Keys() []key.Binding {
	all := p.Meant()
	var keys []key.Binding
	if len(all) > 0 {
		keys = append(keys, complete)
	}
	if p.at+1 < len(all) {
		keys = append(keys, down)
	}
	if p.at > inField {
		keys = append(keys, up)
	}
	return keys
}

// Help says the same at length.
func Help() []key.Binding {
	c, d := complete, down
	c.SetHelp("tab", "go on with the name as far as only one can be meant")
	d.SetHelp("down, up", "into the list of what begins so, and back")
	return []key.Binding{c, d}
}

// Enter gives the path that is meant: empty where it is a folder, which is opened
// instead.
func (p *Picker) Enter() string {
	dir, _ := p.split()
	if all := p.Meant(); p.at > inField && p.at < len(all) {
		p.set(dir + all[p.at])
	}
	typed := p.Value()
	if typed == "" || strings.HasSuffix(typed, string(filepath.Separator)) || typed == "~" {
		return ""
	}
	return typed
}

// Set puts a name into the field.
func (p *Picker) Set(text string) { p.set(text) }

func (p *Picker) set(text string) {
	p.in.SetValue(text)
	p.in.CursorEnd()
	p.at = inField
}

// Paste takes pasted text, as one line.
func (p *Picker) Paste(text string) tea.Cmd {
	return p.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(words.Clean(text))})
}

// Update takes a key.
func (p *Picker) Update(msg tea.KeyMsg) tea.Cmd {
	all := p.Meant()
	switch {
	case key.Matches(msg, up):
		p.at = max(inField, p.at-1)
	case key.Matches(msg, down):
		p.at = min(p.at+1, len(all)-1)
	case key.Matches(msg, complete):
		if p.at > inField {
			all = all[p.at : p.at+1]
		}
		if len(all) > 0 {
			dir, begins := p.split()
			if more := shared(all); len(more) >= len(begins) {
				p.set(dir + more)
			}
		}
	default:
		before := p.in.Value()
		var cmd tea.Cmd
		if p.in, cmd = p.in.Update(msg); p.in.Value() != before {
			p.at = inField
		}
		return cmd
	}
	return nil
}

// shared is how all names begin, as the first spells it.
func shared(names []string) string {
	first := []rune(names[0])
	n := len(first)
	for _, name := range names[1:] {
		other := []rune(name)
		n = min(n, len(other))
		for i := range n {
			if !strings.EqualFold(string(first[i]), string(other[i])) {
				n = i
				break
			}
		}
	}
	return string(first[:n])
}

// View draws the field and what could be meant, in at most h lines.
func (p *Picker) View(t *theme.Theme, label string, w, h int) []string {
	mark := t.Glyphs.Arrow + " "
	if p.at > inField {
		mark = "  "
	}
	label = cells.Fit(mark+label, min(w/2, cells.Width(label)+4))
	lines := []string{t.Strong.Render(label) + t.Input(p.in, max(0, w-cells.Width(label)))}
	all := p.Meant()
	says := ""
	switch {
	case p.failed != nil && p.looked:
		says = "there is no such folder, or it cannot be looked into"
	case !p.looked:
		says = "looking ..."
	case len(all) == 0:
		says = "nothing here begins so"
	}
	if says != "" {
		lines = append(lines, t.Quiet.Render(cells.Cut("  "+says, w)))
	}
	room := max(0, h-len(lines))
	from := min(max(0, p.at-room/2), max(0, len(all)-room))
	for i := from; i < min(len(all), from+room); i++ {
		mark, style := "  ", t.Plain
		if i == p.at {
			mark, style = t.Glyphs.Arrow+" ", t.Focus
		}
		lines = append(lines, style.Render(cells.Cut(mark+all[i], w)))
	}
	return lines
}
