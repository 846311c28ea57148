package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/mattn/go-isatty"

	"example.org/tuckrow/cmd/tuckrow/supervisor"
	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/storage/backup"
	"example.org/tuckrow/tui"
	"example.org/tuckrow/tui/frame"
)

// openInterface opens the interface on the user's store.
func (a *app) openInterface(ctx context.Context) error {
	if !a.atTerminal() {
		return model.Inputf("the interface needs a terminal; without one use the commands, see: tuckrow --help")
	}
	return a.supervised(ctx, func(ctx context.Context) error {
		return a.here(a.storeDir(), func(s *storage.Store) error {
			if _, reading := s.ReadingOnly(); reading { // there is nothing to be backed up
				err := a.openInterfaceOn(ctx, s, nil)
				if lost := s.Unkept(); lost != nil {
					fmt.Fprintf(a.err, "tuckrow: %s\n", words.Escape(lost.Error()))
				}
				return err
			}
			return a.openInterfaceBackedUp(ctx, s)
		})
	})
}

// openInterfaceBackedUp opens the interface on a store that is open already, and
// keeps its backup of the day up to date.
func (a *app) openInterfaceBackedUp(ctx context.Context, s *storage.Store) error {
	w := backup.Watch(ctx, s)
	err := a.openInterfaceOn(ctx, s, w)
	a.tellBackup(w.Stop(ctx))
	return err
}

// sleepTime is how long being suspended may wait for a backup: less than the
// patience of package frame, so that it is broken off in order. Our choice, no
// source.
const sleepTime = 1500 * time.Millisecond

// openInterfaceOn opens the interface on a store that is open already, and runs
// the commands of other terminals on it. Before it is suspended it backs up what
// has changed, which is what other terminals read meanwhile.
func (a *app) openInterfaceOn(ctx context.Context, s *storage.Store, w *backup.Watcher) error {
	h := newHost(s)
	defer h.close()
	o := tui.Options{Title: "tuckrow", Started: h.open}
	if _, reading := s.ReadingOnly(); reading {
		o.Standing = "reading only, nothing is kept"
	}
	if child := supervisor.Inside(); child != nil && child.Suspends() {
		o.Suspend = child.Suspend
	}
	if w != nil {
		o.BeforeSleep = func(ctx context.Context) {
			ctx, cancel := context.WithTimeout(ctx, sleepTime)
			defer cancel()
			_ = w.Now(ctx) // the next one tells what is wrong
		}
	}
	return tui.Run(ctx, s, o, a.in.(*os.File), a.out.(*os.File))
}

// supervised does what takes the terminal: in a child process, where there can
// be one.
func (a *app) supervised(ctx context.Context, do func(context.Context) error) error {
	if child := supervisor.Inside(); child != nil {
		ctx, cancel := context.WithCancel(ctx)
		defer cancel()
		go func() {
			<-child.Gone()
			cancel()
		}()
		return do(ctx)
	}
	if a.supervises {
		return a.supervise()
	}
	return do(ctx)
}

// supervise waits for the child, and says what there is to say when it has
// broken off.
func (a *app) supervise() error {
	in, out := a.in.(*os.File), a.out.(*os.File)
	before, _ := term.GetState(in.Fd())
	ended, err := supervisor.Run(supervisor.Options{
		Args: a.args, In: in, Out: out, GiveBack: func() { frame.GiveBack(in, out, before) },
	})
	if err != nil {
		return err
	}
	if ended.Orderly {
		_, _ = a.err.Write(ended.Said)
		return answer(ended.Code)
	}
	a.clearAfter(ended)
	fmt.Fprintf(a.err, "tuckrow: %s\n", words.Escape(a.brokenOff("the interface", ended)))
	if ended.NoRoom() {
		return answer(exitNoRoom)
	}
	return answer(max(ended.Code, exitInput))
}

// clearAfter removes the folders that a child had for this once.
func (a *app) clearAfter(ended supervisor.Ended) {
	for _, dir := range ended.Folders {
		if err := os.RemoveAll(dir); err != nil {
			fmt.Fprintf(a.err, "tuckrow: %s\n", words.Escape(err.Error()))
		}
	}
}

// brokenOff says how the interface, or a command, has broken off, what is safe,
// and what to do.
func (a *app) brokenOff(what string, ended supervisor.Ended) string {
	text := fmt.Sprintf("%s broke off: exit code %d", what, ended.Code)
	if ended.Signal != 0 {
		text = fmt.Sprintf("%s was ended by signal %d (%v)", what, ended.Signal, ended.Signal)
	}
	said := bytes.TrimSpace(ended.Said)
	if len(said) > 0 {
		first, _, _ := strings.Cut(string(said), "\n")
		text += ": " + first
	}
	if len(ended.Folders) > 0 && slices.Contains(a.args, "demo") {
		return text + "; the demo is gone with it"
	}
	text += ". What it said was entered is stored."
	if drafts, err := filepath.Glob(filepath.Join(a.storeDir(), "draft*.json")); err == nil && len(drafts) > 0 {
		text += fmt.Sprintf(" What was being typed is kept in %q and is there again when you start tuckrow.", a.storeDir())
	}
	if ended.NoRoom() {
		text += " It was ended for want of room, most likely because the disk became full at that moment: make room first."
	}
	text += " Should it break off again, run: " + a.again("verify")
	if len(said) == 0 {
		return text
	}
	report := filepath.Join(a.storeDir(), "broke-off.txt")
	if err := os.WriteFile(report, append(said, '\n'), 0o600); err != nil {
		return text
	}
	return text + fmt.Sprintf(" (all that it said is in %q)", report)
}

// atTerminal tells whether there is a terminal at both ends that can show the
// interface.
func (a *app) atTerminal() bool {
	return isTerminal(a.in) && isTerminal(a.out) && os.Getenv("TERM") != "dumb"
}

func isTerminal(stream any) bool {
	if far, ok := stream.(interface{ isTerminal() bool }); ok { // of another process
		return far.isTerminal()
	}
	f, ok := stream.(*os.File)
	return ok && (isatty.IsTerminal(f.Fd()) || isatty.IsCygwinTerminal(f.Fd()))
}
