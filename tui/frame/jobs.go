package frame

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// patience is how long a job runs before it is spoken of: what is done sooner
// would only flicker. Our choice, no source.
const patience = 150 * time.Millisecond

// often is how often the time that a job has taken is told anew.
const often = 250 * time.Millisecond

// running is a job under way.
type running struct {
	seq   uint64
	what  string
	since time.Time
}

// jobs are what is worked out aside, by the room that has asked for it, and the
// change that is being saved.
type jobs struct {
	asked  map[string]running
	saving running
	later  func(time.Duration) // sends a beat after that time; nil: nobody does
	beats  bool                // one is on its way
}

// watch sees to it that a job that has just begun is spoken of when it takes
// long.
func (r *Root) watch(after time.Duration) {
	if r.jobs.later != nil && !r.jobs.beats {
		r.jobs.beats = true
		r.jobs.later(after)
	}
}

func (r *Root) onBeat() {
	r.jobs.beats = false
	r.settleNotice()
	if len(r.jobs.asked) > 0 || r.writing {
		r.watch(often)
	}
}

// onAsk runs a request, unless it has been overtaken on its way.
func (r *Root) onAsk(msg Ask) {
	if msg.Do == nil || msg.Seq < r.latest[msg.From] {
		return
	}
	r.latest[msg.From] = msg.Seq
	r.jobs.asked[msg.From] = running{msg.Seq, msg.What, r.now()}
	r.cmds = append(r.cmds, r.guard(func() tea.Msg { return reply{msg.From, msg.Seq, msg.Do()} }))
	r.watch(patience)
}

// onReply delivers what came of a request, unless it was overtaken.
func (r *Root) onReply(msg reply) {
	if r.jobs.asked[msg.to].seq != msg.seq {
		return
	}
	delete(r.jobs.asked, msg.to)
	if msg.msg != nil {
		r.given(msg.to, "reply", msg.msg)
	}
}

// long is the job of the room in front that has been running for long, and
// whether it can be stopped: a change that is being saved cannot.
func (r *Root) long() (j running, stoppable, ok bool) {
	if j, ok := r.jobs.asked[r.room().ID]; ok && j.what != "" && r.now().Sub(j.since) >= patience {
		return j, true, true
	}
	if r.writing && r.now().Sub(r.jobs.saving.since) >= patience {
		return r.jobs.saving, false, true
	}
	return running{}, false, false
}

// stopJob has the room in front wait no longer. What is worked out cannot be
// broken off: it runs out unspoken of.
func (r *Root) stopJob() {
	id := r.room().ID
	j := r.jobs.asked[id]
	r.jobs.asked[id] = running{seq: j.seq}
	r.notice.say("stopped; everything is as it was")
	r.deliver(id, Stopped{j.seq})
}

// jobText says what is being done, and for how long.
func (r *Root) jobText(j running) string {
	return fmt.Sprintf("%s %s %d s", j.what, r.theme.Glyphs.Dot, int(r.now().Sub(j.since).Seconds()))
}
