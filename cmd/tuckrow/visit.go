package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"
	"time"

	"example.org/tuckrow/cmd/tuckrow/supervisor"
	"example.org/tuckrow/cmd/tuckrow/wire"
	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/storage/backup"
	"example.org/tuckrow/storage/exchange"
	"github.com/spf13/cobra"
)

// patience is how long a command waits for a store that another program has
// and that is not to be spoken with: it may be just opening or closing, or be a
// command like this one. Our choice, no source.
const patience = 3 * time.Second

// reach gets at the store: through the interface if it is open, else by
// opening it here, and while neither can be had from the newest backup.
func (a *app) reach(open func(*storage.Store) error, visit func(*wire.Session) error, fall func(*backedUp) error) error {
	dir := a.storeDir()
	for begun := time.Now(); ; {
		session, err := wire.Dial(a.ctx, dir, a.typed())
		var silent *wire.SilentError
		var refused *wire.RefusedError
		switch {
		case err == nil:
			err = visit(session)
		case errors.As(err, &silent):
			return a.fallBack(dir, silent, fall)
		case errors.As(err, &refused):
			return fmt.Errorf("%w: %s", model.ErrInUse, refused.Text)
		}
		if !errors.Is(err, wire.ErrNobody) {
			return err
		}
		nobody := err
		if err = a.here(dir, open); !errors.Is(err, errHeld) {
			return err
		}
		if a.ctx.Err() != nil || time.Since(begun) > patience {
			if nobody != wire.ErrNobody {
				err = fmt.Errorf("%w; and it cannot be spoken with: %v", err, nobody)
			}
			return err
		}
		time.Sleep(patience / 60)
	}
}

// errHeld: the store is not opened here, since another program has it.
var errHeld = errors.New("held")

// ample is how much memory a brief command takes before it looks for what can
// be let go, in bytes. Of what it has read it needs all, so until then it would
// look in vain, and takes a tenth of its time for it. Our choice, no source.
const ample = 512 << 20

// here opens the store in this process.
func (a *app) here(dir string, open func(*storage.Store) error) (err error) {
	if a.tight(dir) {
		return a.inChild()
	}
	if a.brief {
		defer debug.SetGCPercent(debug.SetGCPercent(-1))
		defer debug.SetMemoryLimit(debug.SetMemoryLimit(ample))
	}
	_, gone := os.Stat(dir)
	s, err := storage.Open(dir, storage.Options{})
	if errors.Is(err, model.ErrNoRoom) { // no permission, too
		s, err = a.reading(dir, err)
	}
	if errors.Is(err, model.ErrInUse) {
		return heldError{err}
	}
	if err != nil {
		return err
	}
	defer closing(s, &err)
	if errors.Is(gone, fs.ErrNotExist) && supervisor.Inside() == nil { // the name may be mistyped
		fmt.Fprintf(a.err, "tuckrow: there was no cupboard in %q; a new, empty one was begun there\n", dir)
	}
	for _, note := range s.Notes() {
		fmt.Fprintf(a.err, "tuckrow: %s\n", words.Escape(note))
	}
	return open(s)
}

// reading opens the store for reading only, where it cannot be written to, or there
// is no room on its disk for that. Where
// it cannot be read either, or is not there, why it cannot be written to is all
// that there is to say.
func (a *app) reading(dir string, why error) (*storage.Store, error) {
	s, err := storage.OpenReading(dir, storage.Options{})
	switch {
	case errors.Is(err, model.ErrInUse), errors.Is(err, model.ErrDamaged), errors.Is(err, model.ErrNewer):
		return nil, err
	case err != nil:
		return nil, why
	}
	if child := supervisor.Inside(); child != nil {
		copied, _ := s.ReadingOnly()
		child.Folder(copied)
	}
	text, _, _ := strings.Cut(why.Error(), "; give yourself the right")
	fmt.Fprintf(a.err, "tuckrow: opened for reading only: %s\n", words.Escape(text))
	return s, nil
}

// heldError is what storage says of a store that another program has.
type heldError struct{ error }

func (heldError) Is(err error) bool { return err == errHeld }

func (e heldError) Unwrap() error { return e.error }

// typed is the command as the interface is to run it.
func (a *app) typed() wire.Command {
	return wire.Command{Args: a.args, OutTo: isTerminal(a.out), ErrTo: a.over != nil}
}

// visit has the command run where the store is open. What comes of it has been
// printed.
func (a *app) visit(s *wire.Session) error {
	code, err := s.Run(a.ctx, wire.Terminal{In: a.input(), Out: a.out, Err: a.err, Files: a.files})
	var lost *wire.LostError
	var silent *wire.SilentError
	switch {
	case errors.As(err, &silent):
		return fmt.Errorf("%w: the program that has it open (process %d) was suspended while it ran this, and may still do it; let it go on (fg, in the terminal it was opened in) and look", model.ErrInUse, s.PID)
	case errors.As(err, &lost) && a.ctx.Err() != nil:
		return fmt.Errorf("%w, as far as is known: the interface (process %d) does not answer; look whether it was done", errStopped, s.PID)
	case errors.As(err, &lost):
		return fmt.Errorf("%w: the interface (process %d) has broken off, and this may have been done or not; look, and run it again if not", model.ErrInUse, s.PID)
	case err != nil:
		return err
	}
	return answer(code)
}

// input is what is typed or piped in, until the command is stopped.
func (a *app) input() io.Reader { return &heeding{ctx: a.ctx, r: a.in} }

// heeding reads until the context ends, also while it waits for what is not
// typed yet.
type heeding struct {
	ctx  context.Context
	r    io.Reader
	come chan chunk
	rest chunk
}

type chunk struct {
	b   []byte
	err error
}

func (h *heeding) Read(b []byte) (int, error) {
	if h.rest.b == nil && h.rest.err == nil {
		if h.come == nil {
			h.come = make(chan chunk, 1)
			go func() {
				buf := make([]byte, max(len(b), 4096))
				n, err := h.r.Read(buf)
				h.come <- chunk{buf[:n], err}
			}()
		}
		select {
		case h.rest = <-h.come:
			h.come = nil
		case <-h.ctx.Done():
			return 0, h.ctx.Err()
		}
	}
	n := copy(b, h.rest.b)
	h.rest.b = h.rest.b[n:]
	if len(h.rest.b) > 0 {
		return n, nil
	}
	err := h.rest.err
	h.rest = chunk{}
	return n, err
}

// withCopy gives what is done here, in this terminal's files, the cupboard as
// it is, wherever it is open.
func (a *app) withCopy(do func(s backup.Store) error) error {
	return a.reach(func(s *storage.Store) error { return do(s) }, func(s *wire.Session) error {
		s.Close() // it was about another command
		h, err := a.handedOver()
		if err != nil {
			return err
		}
		return do(h)
	}, func(b *backedUp) error { return b.refusal() })
}

// handed is a cupboard that the interface has handed over.
type handed struct {
	backup.Whole
	a *app
}

func (h *handed) Dir() string                   { return "" }
func (h *handed) Collection() *model.Collection { return h.Whole.Collection }

// Dropped asks the interface.
func (h *handed) Dropped(since uint64) (int, error) {
	b, err := h.a.asked("handover", "--dropped-since", strconv.FormatUint(since, 10))
	if err != nil {
		return 0, err
	}
	return strconv.Atoi(strings.TrimSpace(string(b)))
}

// handedOver asks the interface for all that there is.
func (a *app) handedOver() (*handed, error) {
	b, err := a.asked("handover")
	if err != nil {
		return nil, err
	}
	c, stamp, err := exchange.ReadStamped(bytes.NewReader(b))
	if err == nil {
		c, err = model.Build(stamp.Revision, c.Counters(), c.Records())
	}
	if err != nil {
		return nil, fmt.Errorf("what the interface has handed over cannot be used: %w", err)
	}
	return &handed{backup.Whole{Stamp: stamp, Collection: c}, a}, nil
}

// asked runs a command in the interface and gives what it prints.
func (a *app) asked(args ...string) ([]byte, error) {
	s, err := wire.Dial(a.ctx, a.storeDir(), wire.Command{Args: args})
	if err != nil {
		return nil, err
	}
	var out, errs bytes.Buffer
	code, err := s.Run(a.ctx, wire.Terminal{In: strings.NewReader(""), Out: &out, Err: &errs, Files: a.files})
	switch {
	case a.ctx.Err() != nil:
		return nil, a.ctx.Err()
	case err != nil:
		return nil, fmt.Errorf("%w: asking the interface: %v; try again", model.ErrInUse, err)
	case code != exitDone:
		return nil, fmt.Errorf("%w: asking the interface: %s", model.ErrInUse, strings.TrimSpace(errs.String()))
	}
	return out.Bytes(), nil
}

// handoverCommand is for this program itself.
func (a *app) handoverCommand() *cobra.Command {
	var since uint64
	cmd := &cobra.Command{
		Use:     "handover",
		Short:   "For tuckrow itself: hand all that there is to another of its processes",
		Long:    "Prints the cupboard as a backup has it, or with --dropped-since how many copies\nwent since a revision. tuckrow backup uses it while the interface is open.",
		Example: "  tuckrow handover",
		Hidden:  true,
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return a.withStore(func(c cupboard) error {
				if !cmd.Flags().Changed("dropped-since") {
					all := c.Collection()
					return exchange.WriteStamped(a.out, all, exchange.StampOf(all, time.Now()))
				}
				n, err := c.Dropped(since)
				if err == nil {
					a.printf("%d\n", n)
				}
				return err
			})
		},
	}
	cmd.Flags().Uint64Var(&since, "dropped-since", 0, "only how many copies went since this revision")
	return cmd
}

// fallBack goes on with the newest backup while the program that has the store
// does not answer.
func (a *app) fallBack(dir string, silent *wire.SilentError, do func(*backedUp) error) error {
	b := &backedUp{dir: dir, silent: silent}
	all, err := backup.List(backup.Folder(dir))
	if err != nil {
		return fmt.Errorf("%w (its backups: %v)", b.refusal(), err)
	}
	for i := len(all) - 1; i >= 0; i-- {
		w, err := backup.Read(a.ctx, all[i].Path, backup.NoProgress)
		if err != nil || w.Made.IsZero() {
			continue
		}
		b.whole = w
		b.say = sync.OnceFunc(func() {
			fmt.Fprintf(a.err, "tuckrow: %s; this is from the backup of %s, %s old\n", b.why(), w.Made.Local().Format("2 January 2006, 15:04"), age(time.Since(w.Made)))
		})
		return do(b)
	}
	return b.refusal()
}

// age writes how long something is past, roughly.
func age(d time.Duration) string {
	for _, unit := range []struct {
		of   time.Duration
		name string
	}{{24 * time.Hour, "day"}, {time.Hour, "hour"}, {time.Minute, "minute"}, {time.Second, "second"}} {
		switch n := int(d / unit.of); {
		case n == 1:
			return "1 " + unit.name
		case n > 1:
			return fmt.Sprintf("%d %ss", n, unit.name)
		}
	}
	return "less than a second"
}

// backedUp is the newest backup, which answers while the program that has the
// store does not.
type backedUp struct {
	dir    string
	silent *wire.SilentError
	whole  *backup.Whole
	say    func() // says once how old it is
}

func (b *backedUp) why() string {
	state := "does not answer"
	if b.silent.Suspended {
		state = "is suspended"
	}
	return fmt.Sprintf("the program that has the store open (process %s) %s", cmp.Or(strings.TrimPrefix(strconv.Itoa(b.silent.PID), "0"), "unknown"), state)
}

// refusal is why nothing can be written.
func (b *backedUp) refusal() error {
	return fmt.Errorf("%w: %s; nothing was changed. Let it go on (fg, in the terminal it was opened in) and run this again", model.ErrInUse, words.Escape(b.why()))
}

func (b *backedUp) Dir() string { return b.dir }

func (b *backedUp) Collection() *model.Collection {
	b.say()
	return b.whole.Collection
}

func (b *backedUp) Layout() *ordering.Layout { return ordering.Arrange(b.Collection()) }

func (b *backedUp) Index() *lookup.Index { return lookup.New(b.Collection()) }

func (b *backedUp) Find(words string, limit int) (lookup.Found, map[model.PatternID][]model.Accession) {
	return lookup.Find(b.Collection(), words, limit)
}

func (b *backedUp) Commit(context.Context, model.Change) (model.Commit, error) {
	return model.Commit{}, b.refusal()
}

func (b *backedUp) Undo(context.Context) (model.Commit, error) { return model.Commit{}, b.refusal() }

func (b *backedUp) Fill(context.Context, *model.Collection, string) (model.Commit, error) {
	return model.Commit{}, b.refusal()
}

func (b *backedUp) Verify() (int, error) { return 0, b.refusal() }

func (b *backedUp) Dropped(uint64) (int, error) { return 0, b.refusal() }
