package frame

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// The hands rest when no key has come for a moment; who types on and on is
// taken to rest now and then, too. Our choice, no source.
const (
	moment   = 500 * time.Millisecond
	mostTime = 5 * time.Second
)

// stirred is what was pressed since the screens were told of a rest.
type stirred struct {
	first, last time.Time
	waits       bool                         // a look at it is on its way
	later       func(time.Duration, tea.Msg) // sends a message after that time; nil: nobody does
}

// stir notes that a key or a paste has come. It is all that a key costs.
func (r *Root) stir() {
	s := &r.stirred
	s.last = r.now()
	if s.first.IsZero() {
		s.first = s.last
	}
	if !s.waits && s.later != nil {
		s.waits = true
		s.later(moment, look{})
	}
}

// onLook tells the screens when the hands rest.
func (r *Root) onLook() {
	s := &r.stirred
	s.waits = false
	if s.first.IsZero() || r.closing {
		return
	}
	now := r.now()
	if left := moment - now.Sub(s.last); left > 0 && now.Sub(s.first) < mostTime {
		s.waits = true
		s.later(left, look{})
		return
	}
	s.first = time.Time{}
	r.deliverAll(Rested{})
}
