package frame

import (
	"context"

	"example.org/tuckrow/model"
	tea "github.com/charmbracelet/bubbletea"
)

// Outside is how others than the screens work on the store while the interface
// is open: commands that come from a second terminal. It may be used by
// several goroutines, also when the interface has ended.
type Outside struct {
	root  *Root
	send  func(tea.Msg)
	ended <-chan struct{} // closed when nobody looks at the screens any more
}

// Do makes a change in its turn: after those that were told before it, and
// with none beside it. When it returns without an error the screens have been
// told of the change. A change whose turn has not come when the context ends
// is not made.
func (o *Outside) Do(ctx context.Context, change func() (model.Commit, error)) (model.Commit, error) {
	j := job{outside: &visit{change: change, done: make(chan result, 1), taken: make(chan struct{})}}
	res := o.root.writer.visit(ctx, j)
	if res.err != nil {
		return res.commit, res.err
	}
	go o.send(visited{}) // it waits for a root that is busy
	select {
	case <-j.outside.taken:
	case <-o.ended:
	case <-ctx.Done(): // it is made all the same
	}
	return res.commit, nil
}

// Complain shows an error in the interface.
func (o *Outside) Complain(err error) { go o.send(Complain{err}) }

// visit is a change from outside.
type visit struct {
	change func() (model.Commit, error)
	done   chan result   // gets what came of it
	taken  chan struct{} // closed when the screens have been told
}

// visit queues a job from outside and sees to it that it is done.
func (w *writer) visit(ctx context.Context, j job) result {
	w.add(j)
	for {
		_, err := w.one(ctx)
		select {
		case res := <-j.outside.done:
			return res
		default:
		}
		if err == nil {
			continue // it was another's turn
		}
		if w.withdraw(j.outside) {
			return result{job: j, err: err}
		}
		return <-j.outside.done // somebody is at it just now
	}
}

// withdraw takes a job from outside back, if it has not been begun.
func (w *writer) withdraw(v *visit) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	for i, j := range w.queue {
		if j.outside == v {
			w.queue = append(w.queue[:i:i], w.queue[i+1:]...)
			return true
		}
	}
	return false
}
