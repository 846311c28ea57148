package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"sync"
	"time"

	"example.org/tuckrow/cmd/tuckrow/wire"
	"example.org/tuckrow/storage/exchange"
)

// often is how often a long command says how far it is, the first time after as
// long: what is done sooner would only flicker. Our choice, no source.
const often = 200 * time.Millisecond

// exitStopped is what a shell reports of a program that ctrl+c has ended: 128 and
// the number of the signal (POSIX, the shell command language).
const exitStopped = 130

// errStopped: the user has stopped the command.
var errStopped = errors.New("stopped, and nothing was stored")

// progress says on one line what a long command is doing.
type progress struct {
	w     io.Writer // nil: nobody reads it
	begun time.Time
	stop  chan struct{}
	ended sync.WaitGroup

	mu    sync.Mutex
	what  string
	share func() int // in hundredths; nil: not known
	shown bool
}

// progress begins to say what the command is doing, where somebody is there to
// read it. It is to be ended.
func (a *app) progress() *progress {
	p := &progress{begun: time.Now(), stop: make(chan struct{})}
	if a.over == nil {
		return p
	}
	p.w = a.over
	p.ended.Go(func() {
		tick := time.NewTicker(often)
		defer tick.Stop()
		for {
			select {
			case now := <-tick.C:
				p.say(now)
			case <-p.stop:
				return
			}
		}
	})
	return p
}

// step says what is being done from now on.
func (p *progress) step(what string, share func() int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.what, p.share = what, share
}

// tell is a backup.Progress.
func (p *progress) tell(doing string, n, of int64) {
	if of <= 0 {
		p.step(doing, nil)
		return
	}
	share := int(min(100, 100*n/of))
	p.step(doing, func() int { return share })
}

func (p *progress) say(now time.Time) {
	p.mu.Lock()
	defer p.mu.Unlock()
	far := ""
	if p.share != nil {
		far = fmt.Sprintf(", %d %%", p.share())
	}
	fmt.Fprintf(p.w, "\r\x1b[K%s%s, %d s; ctrl+c stops it", p.what, far, int(now.Sub(p.begun).Seconds()))
	p.shown = true
}

// end takes the line away.
func (p *progress) end() {
	close(p.stop)
	p.ended.Wait()
	if p.shown {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}

// newSteady reads a file of the command's terminal until the context ends.
func newSteady(ctx context.Context, f io.Reader) *exchange.Steady {
	return exchange.NewSteady(ctx, f, wire.SizeOf(f))
}
