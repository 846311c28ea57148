package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"example.org/tuckrow/cmd/tuckrow/wire"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/frame"
)

// host runs the commands that are typed in other terminals while the interface
// is open: one at a time and in the order in which they come, each until it has
// to wait for its terminal.
type host struct {
	store   *storage.Store
	turn    chan struct{} // holds one token; who has it may work
	outside inTurn
	desk    *desk.Desk
	stop    func()
}

func newHost(s *storage.Store) *host {
	h := &host{store: s, turn: make(chan struct{}, 1), stop: func() {}}
	h.turn <- struct{}{}
	return h
}

// open begins to listen. That it cannot is told in the interface.
func (h *host) open(o *frame.Outside, d *desk.Desk) {
	h.outside, h.desk = o, d
	l, err := wire.Listen(h.store.Dir())
	if err != nil {
		o.Complain(fmt.Errorf("commands in other terminals have to wait until tuckrow is closed: %w", err))
		return
	}
	server := &wire.Server{Run: h.run, Rev: func() uint64 { return h.store.Collection().Rev() }, Log: h.log}
	go server.Serve(l)
	h.stop = func() {
		_ = l.Close()
		ctx, cancel := context.WithTimeout(context.Background(), patience)
		defer cancel()
		if err := server.Close(ctx); err != nil {
			h.log(err.Error())
		}
	}
}

// close lets commands that have begun end, and begins none any more.
func (h *host) close() { h.stop() }

// log keeps what is nobody's error beside the store.
func (h *host) log(text string) {
	f, err := os.OpenFile(filepath.Join(h.store.Dir(), storage.Log), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return
	}
	defer f.Close()
	fmt.Fprintln(f, text)
}

// tries is how often a command is begun because the cupboard has changed while
// it worked. Our choice, no source.
const tries = 5

// run runs a command for another terminal.
func (h *host) run(ctx context.Context, c wire.Call) int {
	select {
	case <-h.turn:
	case <-ctx.Done():
		return exitStopped
	}
	defer func() { h.turn <- struct{}{} }()
	v := &visitor{host: h, call: c}
	for n := 1; ; n++ {
		l := &lent{Store: h.store, outside: h.outside, desk: h.desk}
		a := &app{streams: streams{v, page{v, false}, page{v, true}}, files: v, lent: l}
		if c.ErrTo {
			a.over = c.Err
		}
		err := a.run(ctx, c.Args)
		if errors.Is(err, errMoved) && !l.wrote && !v.sent && n < tries {
			v.held, v.at = nil, 0
			continue
		}
		code := report(a.err, err)
		_ = v.send() // a terminal that is gone takes nothing
		return code
	}
}
