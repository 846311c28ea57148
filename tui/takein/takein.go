// Package takein takes in a spreadsheet of somebody's own, or an export of a whole
// cupboard: which file, what its columns are, what in it could be mended, what
// would be stored and what cannot be.
//
// The usual way in is [New], in front of the room that it belongs to; then
// [Sheet.Update] with every key and [Sheet.Take] with whatever comes back.
//
// Promised: nothing is stored before the last page was seen and enter pressed on
// it, and then all of it as one step for undo. Nothing is mended but what was
// taken. Reading and working out is done aside: no key waits for it. Rows that
// cannot be used go, with the reason, into a file beside the one read. What is chosen
// and not stored yet can be kept with [Sheet.Draft], and taken up with [Sheet.Recall].
package takein

import (
	"context"
	"path/filepath"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
	"example.org/tuckrow/storage/exchange"
	"example.org/tuckrow/storage/table"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/files"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/theme"
)

// stage is what the sheet shows.
type stage int

const (
	naming   stage = iota // which file
	mapping               // what its columns are
	cleaning              // what could be mended
	judging               // what would be stored
	told                  // what was stored
)

// Host is the room behind the sheet.
type Host struct {
	Write func(model.Change) uint64 // gives the number by which Written tells of it
	Ask   func(what string, do func() tea.Msg)
	Tell  func(tea.Msg)
}

// Sheet is the taking in of one file.
type Sheet struct {
	desk  *desk.Desk
	theme *theme.Theme
	host  Host
	keys  keys
	w, h  int

	stage  stage
	left   bool
	doing  string // what is being worked out; empty: nothing is
	stop   context.CancelFunc
	steady *exchange.Steady // the file while it is read

	picker *files.Picker
	typed  string // the file, as it was named
	path   string // and where that is
	table  *table.Table
	whole  *model.Collection // of an export; nil: it is a spreadsheet

	columns []int // those that the form has
	form    *form.Form

	asked     map[string]string // what was told of the columns when it was looked through
	proposals []clean.Proposal
	lines     []int // of the file, of the rows of the proposals
	take      []bool
	rows      []row
	at        int

	kept    draft // from before the program was closed
	altered bool  // something was chosen since it was kept last

	plan      *planned
	saves     uint64 // the write that stores it; 0: none
	said      []string
	top, most int
	drawn     drawn
}

// New begins with the file.
func New(d *desk.Desk, t *theme.Theme, h Host) *Sheet {
	return &Sheet{desk: d, theme: t, host: h, keys: newKeys(), picker: files.NewPicker(suits), altered: true}
}

// suits tells whether a file can be a spreadsheet or an export, by its name.
func suits(name string) bool {
	return slices.Contains([]string{".csv", ".tsv", ".txt", ".jsonl"}, strings.ToLower(filepath.Ext(name)))
}

// Left tells whether the sheet was left. Come shows it again, as it was.
func (s *Sheet) Left() bool { return s.left }

// Done tells whether all was stored, so that another file is the next.
func (s *Sheet) Done() bool { return s.stage == told }

// Come shows the sheet.
func (s *Sheet) Come() {
	s.left = false
	s.picker.Again()
	s.look()
}

// CapturesText tells whether letters are being typed into something.
func (s *Sheet) CapturesText() bool { return s.stage <= mapping }

// SetSize says how large it is drawn.
func (s *Sheet) SetSize(w, h int) { s.w, s.h = w, h }

// Update takes a key. While something is worked out that the next page needs, there
// is nothing to be done on this one.
func (s *Sheet) Update(msg tea.KeyMsg) tea.Cmd {
	if s.doing != "" || s.saves != 0 {
		return nil
	}
	s.altered = true
	switch s.stage {
	case naming:
		return s.onNameKey(msg)
	case mapping:
		return s.onMapKey(msg)
	case cleaning:
		s.onCleanKey(msg)
	default:
		s.onJudgeKey(msg)
	}
	return nil
}

// Paste takes pasted text.
func (s *Sheet) Paste(text string) tea.Cmd {
	var cmd tea.Cmd
	switch {
	case s.doing != "":
	case s.stage == naming:
		cmd = s.picker.Paste(text)
		s.look()
	case s.stage == mapping:
		cmd = s.form.Paste(text)
	}
	return cmd
}

// Stopped: the user waits no longer for what was asked for.
func (s *Sheet) Stopped() {
	s.doing = ""
	if s.stop != nil {
		s.stop()
	}
}

// Follow takes a change along: what would be stored is worked out anew.
func (s *Sheet) Follow() {
	if s.stage == judging && s.saves == 0 && s.doing == "" && s.plan != nil && s.whole == nil {
		s.judge()
	}
}

// Written goes on when it is stored. Where that has failed, all stays as it is.
func (s *Sheet) Written(msg frame.Written) {
	if msg.Seq != s.saves {
		return
	}
	if s.saves = 0; msg.Err != nil {
		return
	}
	s.stage, s.top, s.altered = told, 0, true
	s.said = []string{msg.Commit.Title + "; ctrl+z takes all of it back"}
	if s.plan != nil {
		s.said = append(s.said, s.plan.new...)
		s.keep()
	}
	s.table, s.proposals, s.take, s.rows = nil, nil, nil, nil
}
