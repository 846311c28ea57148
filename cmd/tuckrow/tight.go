package main

import (
	"fmt"
	"os"
	"syscall"

	"example.org/tuckrow/cmd/tuckrow/supervisor"
	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/whole"
)

// tightDisk is how much, in bytes, no other program can take between a look at
// what is free and the writing behind it, which takes milliseconds. Our choice,
// no source.
const tightDisk = 1 << 30

// tight tells whether a command had better run in a process of its own: where a
// disk becomes full at the wrong moment, Badger's process is ended by a signal,
// and somebody must be there to say what that was.
func (a *app) tight(dir string) bool {
	if !a.supervises || supervisor.Inside() != nil {
		return false
	}
	n, known := whole.Free(dir)
	return known && n < tightDisk
}

// inChild runs the command in a process of its own.
func (a *app) inChild() error {
	in, okIn := a.in.(*os.File)
	out, okOut := a.out.(*os.File)
	if !okIn || !okOut {
		return fmt.Errorf("standard input and output are no files")
	}
	ended, err := supervisor.Run(supervisor.Options{Args: a.args, In: in, Out: out, GiveBack: func() {}})
	if err != nil {
		return err
	}
	if ended.Orderly {
		_, _ = a.err.Write(ended.Said)
		return answer(ended.Code)
	}
	a.clearAfter(ended)
	if ended.Signal == syscall.SIGPIPE { // who reads has read enough, as in: tuckrow find | head -1
		return answer(ended.Code)
	}
	if ended.NoRoom() {
		return fmt.Errorf("%w: %s", model.ErrNoRoom, a.brokenOff("this command", ended))
	}
	fmt.Fprintf(a.err, "tuckrow: %s\n", words.Escape(a.brokenOff("this command", ended)))
	return answer(max(ended.Code, exitInput))
}
