package main

import (
	"io"

	"example.org/tuckrow/cmd/tuckrow/wire"
)

// visitor is the terminal of a command that runs here for another. While it
// waits for that terminal, others have their turn.
type visitor struct {
	host  *host
	call  wire.Call
	held  []piece // printed and not sent yet
	size  int     // of all that is held
	sent  bool    // something has been
	typed []byte  // read so far, in case the command is begun anew
	at    int
}

// piece is something printed.
type piece struct {
	err  bool
	text []byte
}

// mostHeld is how much of what a command prints is held until it ends, in
// bytes. Our choice, no source.
const mostHeld = 1 << 20

// aside does what may have to wait for the other terminal.
func (v *visitor) aside(do func()) {
	v.host.turn <- struct{}{}
	defer func() { <-v.host.turn }()
	do()
}

// page is what a command prints to, or tells errors to.
type page struct {
	v   *visitor
	err bool
}

func (p page) isTerminal() bool {
	if p.err {
		return p.v.call.ErrTo
	}
	return p.v.call.OutTo
}

func (p page) Write(b []byte) (int, error) {
	v := p.v
	if n := len(v.held); n > 0 && v.held[n-1].err == p.err {
		v.held[n-1].text = append(v.held[n-1].text, b...)
	} else {
		v.held = append(v.held, piece{p.err, append([]byte(nil), b...)})
	}
	if v.size += len(b); v.size > mostHeld {
		if err := v.send(); err != nil {
			return 0, err
		}
	}
	return len(b), nil
}

// send sends what was printed, in its order.
func (v *visitor) send() (err error) {
	held := v.held
	v.held, v.size, v.sent = nil, 0, v.sent || len(held) > 0
	v.aside(func() {
		for _, p := range held {
			to := v.call.Out
			if p.err {
				to = v.call.Err
			}
			if _, err = to.Write(p.text); err != nil {
				return
			}
		}
	})
	return err
}

// Read reads what is typed for the command.
func (v *visitor) Read(b []byte) (n int, err error) {
	if v.at == len(v.typed) {
		v.aside(func() { n, err = v.call.In.Read(b) })
		v.typed = append(v.typed, b[:n]...)
	} else {
		n = copy(b, v.typed[v.at:])
	}
	v.at += n
	return n, err
}

// Open opens a file of the other terminal's.
func (v *visitor) Open(name string) (f io.ReadCloser, err error) {
	v.aside(func() { f, err = v.call.Files.Open(name) })
	if err != nil {
		return nil, err
	}
	return theirs{v, f}, nil
}

// Create begins a file of the other terminal's.
func (v *visitor) Create(name string, replace bool) (d wire.Draft, err error) {
	v.aside(func() { d, err = v.call.Files.Create(name, replace) })
	if err != nil {
		return nil, err
	}
	return theirDraft{v, d}, nil
}

// theirs is a file of the other terminal's.
type theirs struct {
	v *visitor
	f io.ReadCloser
}

func (t theirs) Size() int64 { return wire.SizeOf(t.f) }

func (t theirs) Read(b []byte) (n int, err error) {
	t.v.aside(func() { n, err = t.f.Read(b) })
	return n, err
}

func (t theirs) Close() (err error) {
	t.v.aside(func() { err = t.f.Close() })
	return err
}

// theirDraft is one that is being written.
type theirDraft struct {
	v *visitor
	d wire.Draft
}

func (t theirDraft) Write(b []byte) (n int, err error) {
	t.v.aside(func() { n, err = t.d.Write(b) })
	return n, err
}

func (t theirDraft) Keep() (err error) {
	t.v.aside(func() { err = t.d.Keep() })
	return err
}

func (t theirDraft) Close() (err error) {
	t.v.aside(func() { err = t.d.Close() })
	return err
}
