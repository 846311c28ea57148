package intake

import (
	"fmt"
	"time"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/frame"
)

// idle is how long no key comes before nobody counts as being at work. Our
// choice, no source.
const idle = 2 * time.Minute

// enough is how many entries a pace is told from.
const enough = 3

// pace is how fast entries come, in this sitting, with the time left out in
// which nobody was at the keyboard.
type pace struct {
	last    time.Time     // key
	spent   time.Duration // at work
	entries int
	until   time.Duration // at work, up to the last entry
}

// busy notes that a key was pressed.
func (p *pace) busy(now time.Time) {
	if gap := now.Sub(p.last); !p.last.IsZero() && gap > 0 && gap <= idle {
		p.spent += gap
	}
	p.last = now
}

// entered notes that an entry is done.
func (p *pace) entered(now time.Time) {
	p.busy(now)
	p.entries++
	p.until = p.spent
}

// pause leaves out what comes until the next key: it is other work.
func (p *pace) pause() { p.last = time.Time{} }

// each is the time for one entry; false until that can be told.
func (p *pace) each() (time.Duration, bool) {
	if p.entries < enough || p.until <= 0 {
		return 0, false
	}
	return p.until / time.Duration(p.entries), true
}

// paceTexts says how far the drawer is, the fullest way first: what is listed of
// what lies in it, the pace, and how long the rest will take.
func (s *Screen) paceTexts() []string {
	each, known := s.pace.each()
	listed, expected := 0, 0
	if b := s.desk.Collection().BatchNamed(s.fields[fBatch].text()); b != nil {
		listed, expected = s.desk.Known.Batch(b.ID), b.Expected
	}
	left := max(0, expected-listed)
	dot := " " + s.theme.Glyphs.Dot + " "
	pace := fmt.Sprintf("%d s each", max(1, int(each.Round(time.Second).Seconds())))
	whole := fmt.Sprintf("%d of about %d listed", listed, expected)
	rest := fmt.Sprintf("%s for the %d left", roughly(each*time.Duration(left)), left)
	switch {
	case known && left > 0:
		return []string{whole + dot + pace + dot + rest, pace + dot + rest, rest}
	case known && expected > 0:
		return []string{whole + dot + pace, pace}
	case expected > 0:
		return []string{whole}
	case known && s.fields[fBatch].text() != "":
		return []string{pace + dot + "ctrl+a says about how many lie in it", pace}
	case known:
		return []string{pace}
	}
	return nil
}

// roughly says a time as one says a guess.
func roughly(d time.Duration) string {
	m := int(d.Round(time.Minute).Minutes())
	switch {
	case m < 1:
		return "under a minute"
	case m <= 10:
		return fmt.Sprintf("about %d min", m)
	case m < 58:
		return fmt.Sprintf("about %d min", (m+2)/5*5)
	}
	half := (m + 15) / 30
	switch {
	case half == 2:
		return "about an hour"
	case half%2 == 0 || half > 20:
		return fmt.Sprintf("about %d hours", (half+1)/2)
	}
	return fmt.Sprintf("about %d½ hours", half/2)
}

// askAbout asks about how many lie in the drawer.
func (s *Screen) askAbout() tea.Cmd {
	if s.fields[fBatch].text() == "" {
		s.note = "first give the drawer a name, in the field Batch"
		return nil
	}
	s.fields[s.focus].input.Blur()
	in := textinput.New()
	in.Prompt, in.CharLimit = "", 10
	in.Cursor.SetMode(cursor.CursorStatic)
	s.about = &in
	return in.Focus()
}

func (s *Screen) onAboutKey(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, s.keys.cancel, s.keys.howMany):
		return s.endAbout()
	case key.Matches(msg, s.keys.say):
		n, err := model.ParseAbout(s.about.Value())
		if err != nil {
			s.Tell(frame.Complain{Err: err})
			return nil
		}
		ch := &model.Expect{Batch: s.fields[fBatch].text(), About: n}
		s.write(ch, job{says: ch.Title(nil)})
		return s.endAbout()
	}
	in, cmd := s.about.Update(msg)
	s.about = &in
	return cmd
}

func (s *Screen) endAbout() tea.Cmd {
	s.about = nil
	return s.fields[s.focus].input.Focus()
}
