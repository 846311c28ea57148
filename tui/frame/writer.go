package frame

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"example.org/tuckrow/model"
	tea "github.com/charmbracelet/bubbletea"
)

// job is a change to be written, or with no change, the last one to be undone.
type job struct {
	from    string
	seq     uint64
	change  model.Change
	behind  bool   // it was told while another was not done yet
	seen    int    // how many changes from outside were on the screen then
	outside *visit // it comes from outside, and none of the above is set
}

func (j job) undo() bool { return j.change == nil && j.outside == nil }

// result is what came of a job.
type result struct {
	job
	commit model.Commit
	err    error
	next   string // what undo would take back now
}

// writer does jobs one at a time, in order, each once. The results wait in it
// to be taken, because a message with them is lost when the program ends.
type writer struct {
	store Store
	after func(model.Commit) // a change was made; nil: nobody has to know before the screens do
	turn  chan struct{}      // holds one token; who has it may write

	mu      sync.Mutex
	queue   []job
	queued  int // ever
	busy    bool
	results []result
	failed  bool // the last job of a screen failed
	broken  bool // the store has panicked
	visits  int  // how many changes from outside have been made
}

func newWriter(s Store, after func(model.Commit)) *writer {
	w := &writer{store: s, after: after, turn: make(chan struct{}, 1)}
	w.turn <- struct{}{}
	return w
}

func (w *writer) add(j job) {
	w.mu.Lock()
	defer w.mu.Unlock()
	j.behind = w.busy || len(w.queue) > 0
	w.queue = append(w.queue, j)
	w.queued++
}

// told is how many jobs there have been.
func (w *writer) told() int {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.queued
}

func (w *writer) pending() int {
	w.mu.Lock()
	defer w.mu.Unlock()
	return len(w.queue)
}

func (w *writer) take() []result {
	w.mu.Lock()
	defer w.mu.Unlock()
	taken := w.results
	w.results = nil
	return taken
}

// one does the next job, after the one that is being done. It tells whether
// there was any. The turn is kept from taking the job until its result is
// there: so jobs are done in order whoever calls.
func (w *writer) one(ctx context.Context) (bool, error) {
	select {
	case <-w.turn:
	case <-ctx.Done():
		return false, ctx.Err()
	}
	defer func() { w.turn <- struct{}{} }()
	if ctx.Err() != nil {
		return false, ctx.Err()
	}
	w.mu.Lock()
	if len(w.queue) == 0 {
		w.mu.Unlock()
		return false, nil
	}
	done := result{job: w.queue[0], err: errBrokeOff}
	w.queue = w.queue[1:]
	w.busy = true
	failed, broken, visits := w.failed, w.broken, w.visits
	w.mu.Unlock()

	ended := false
	defer func() { // also when the store panics
		w.mu.Lock()
		defer w.mu.Unlock()
		w.busy = false
		w.broken = w.broken || !ended
		if v := done.outside; v == nil {
			w.failed = done.err != nil
		} else {
			if done.err == nil {
				w.visits++
			}
			v.done <- done
		}
		w.results = append(w.results, done)
	}()
	ctx = context.WithoutCancel(ctx) // who does a job may be another than who waits for it
	switch {
	case broken:
	case done.outside != nil:
		done.commit, done.err = done.outside.change()
	case done.undo() && done.behind && failed:
		done.err = errNotUndone
	case done.undo() && done.seen != visits:
		done.err = errVisited
	case done.undo():
		done.commit, done.err = w.store.Undo(ctx)
	default:
		done.commit, done.err = w.store.Commit(ctx, done.change)
	}
	done.next, _ = w.store.Undoable()
	ended = true
	if done.err == nil && w.after != nil {
		w.after(done.commit)
	}
	return true, nil
}

var (
	errBrokeOff = errors.New("the store broke off and nothing more was written; close tuckrow and run: tuckrow verify")
	// errNotUndone: who presses undo while a change is being saved means that
	// change, and not the one before it.
	errNotUndone = errors.New("nothing was undone: the change to be undone had not been saved in the first place")
	// errVisited: nor does who presses it mean what was not on the screen yet.
	errVisited = errors.New("nothing was undone: another terminal has just made a change; undo again if that one is meant")
)

// drain does all jobs that are left.
func (w *writer) drain(ctx context.Context) error {
	for {
		did, err := w.one(ctx)
		if err != nil {
			return fmt.Errorf("waiting for the store: %w", err)
		}
		if !did {
			return nil
		}
	}
}

// onJob queues a job and sees to it that it is done. What was said of the one
// before is over with that; and undo means this one from now on.
func (r *Root) onJob(j job) {
	r.notice.say("")
	r.undoable = ""
	if !j.undo() {
		r.undoable = j.change.Title(r.col)
	}
	j.seen = r.visits
	r.writer.add(j)
	r.startWriter()
}

func (r *Root) startWriter() {
	if r.writing || r.writer.pending() == 0 {
		return
	}
	r.writing = true
	r.jobs.saving = running{what: "saving", since: r.now()}
	r.watch(patience)
	r.cmds = append(r.cmds, r.guard(func() tea.Msg {
		// Not the program's context: a write under way is finished even so.
		_, _ = r.writer.one(context.Background())
		return landed{}
	}))
}

func (r *Root) onLanded() {
	r.writing = false
	_ = r.settle()
	r.startWriter()
}

// settle delivers the results that wait. It gives the errors among them.
func (r *Root) settle() error {
	var failed []error
	for _, res := range r.writer.take() {
		if r.writer.pending() == 0 {
			r.undoable = res.next
		}
		if res.outside != nil {
			r.onVisit(res)
			continue
		}
		nothingLeft := errors.Is(res.err, model.ErrNothingToUndo)
		switch {
		case nothingLeft:
			r.notice.say(res.err.Error())
		case res.err != nil:
			failed = append(failed, res.err)
			r.notice.complain(res.err, res.from, "", r.hands.pressed)
		default:
			r.mended("", "")
			if res.undo() {
				r.notice.say(res.commit.Title)
			}
			r.onStoreChanged(StoreChanged{res.commit})
		}
		if res.from != "" {
			r.deliver(res.from, Written{res.seq, res.commit, res.err})
		}
	}
	return errors.Join(failed...)
}

// onVisit takes what came of a change from outside. That it failed is for who
// wanted it.
func (r *Root) onVisit(res result) {
	if res.err == nil {
		r.visits++
		r.notice.say("from another terminal: " + res.commit.Title)
		r.onStoreChanged(StoreChanged{res.commit})
	}
	close(res.outside.taken)
}

// Drain finishes what was told to be written. It is called when Program.Run
// has returned, whatever the reason, and before the store is closed: commands
// still run then, and a write may be under way in one. It lets the screens keep
// what is typed if they have not been asked to yet, and tells them of writes
// that failed, so that a draft can be kept of those too. The error holds what
// the user has not seen any more.
func (r *Root) Drain(ctx context.Context) error {
	if !r.closing {
		r.tellClosing()
	}
	err, failed := r.writer.drain(ctx), r.settle()
	// That a write has ended can have a screen tell the next one.
	for err == nil && failed == nil && r.writer.pending() > 0 {
		err, failed = r.writer.drain(ctx), r.settle()
	}
	if failed != nil || err != nil {
		r.tellClosing()
	}
	if n := r.writer.pending(); n > 0 {
		err = errors.Join(err, fmt.Errorf("%d of the changes made were not saved; make them again", n))
	}
	return errors.Join(r.closeErr, failed, err)
}
