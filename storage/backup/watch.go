package backup

import (
	"context"
	"sync"
	"time"
)

// every is how often a store that is open is looked at.
const every = 10 * time.Minute

// Watcher keeps the backup of the day up to date while a store is open, aside
// from the work on it: what is backed up is the cupboard at one revision, which
// no change alters.
type Watcher struct {
	store Journaled
	stop  chan struct{}
	ended chan error
	mu    sync.Mutex // one backup at a time
}

// Watch begins with what the last session left, if that was not backed up yet.
// When the context ends, it breaks off.
func Watch(ctx context.Context, s Journaled) *Watcher {
	w := &Watcher{store: s, stop: make(chan struct{}), ended: make(chan error, 1)}
	go func() { w.ended <- w.watch(ctx) }()
	return w
}

func (w *Watcher) watch(ctx context.Context) error {
	tick := time.NewTicker(every)
	defer tick.Stop()
	for {
		err := w.Now(ctx)
		select {
		case <-w.stop:
			return err
		case <-ctx.Done():
			<-w.stop
			return err
		case <-tick.C:
		}
	}
}

// Stop ends the watching and backs up what has changed since, before the store
// is closed. Where the context has ended, since the program was told to end,
// that is left to the next session. The error is that of the last time.
func (w *Watcher) Stop(ctx context.Context) error {
	close(w.stop)
	err := <-w.ended
	if ctx.Err() != nil {
		return err
	}
	return w.Now(ctx)
}

// Now backs up what has changed since the last time.
func (w *Watcher) Now(ctx context.Context) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	return Daily(ctx, w.store, time.Now(), EachChange, NoProgress)
}
