//go:build unix

package supervisor

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"sync"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

// Supported tells whether there are supervisors on this system.
const Supported = true

// mostSaid is how much of what the child says is kept, in bytes.
const mostSaid = 256 << 10

// endTime is how long a child that was told to end may take. It has a watchdog
// of its own, which is quicker by far.
const endTime = 30 * time.Second

// Run starts this program again as a child and returns when that has ended, the
// terminal being as it was before.
func Run(o Options) (Ended, error) {
	s := &supervisor{o: o, job: job(), signals: make(chan os.Signal, 8), waits: make(chan syscall.WaitStatus)}
	signal.Notify(s.signals, syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT, syscall.SIGTSTP, syscall.SIGCONT)
	defer signal.Stop(s.signals)
	if err := s.start(); err != nil {
		return Ended{}, fmt.Errorf("starting the interface: %w", err)
	}
	status := s.watch()
	s.reading.Wait()
	_ = s.life.Close()
	s.ended.Code = status.ExitStatus()
	if status.Signaled() {
		s.ended.Signal = status.Signal()
		s.ended.Code = 128 + int(status.Signal())
	}
	if !s.ended.Orderly {
		o.GiveBack()
	}
	return s.ended, nil
}

// job tells whether this process is one of a shell's jobs, so that somebody
// goes on when it stops: the parent is of the same session and in another
// process group, or leads the group that this process is in.
func job() bool {
	mine, err := unix.Getsid(0)
	if err != nil || mine == os.Getpid() {
		return false
	}
	theirs, err := unix.Getsid(os.Getppid())
	return err == nil && theirs == mine && os.Getppid() > 1
}

type supervisor struct {
	o       Options
	job     bool
	pid     int
	life    *os.File
	signals chan os.Signal
	waits   chan syscall.WaitStatus
	reading sync.WaitGroup
	ended   Ended
}

// start starts the child with the terminal.
func (s *supervisor) start() error {
	self, err := os.Executable()
	if err != nil {
		return err
	}
	var ours, theirs [3]*os.File // what it says, what it tells, and that we live
	for i := range ours {
		if ours[i], theirs[i], err = os.Pipe(); err != nil {
			return err
		}
	}
	ours[2], theirs[2] = theirs[2], ours[2]
	state := ""
	if s.job {
		state = " suspends"
	}
	p, err := os.StartProcess(self, append([]string{os.Args[0]}, s.o.Args...), &os.ProcAttr{
		Env:   append(os.Environ(), fmt.Sprintf("%s=%d%s", variable, os.Getpid(), state)),
		Files: []*os.File{s.o.In, s.o.Out, theirs[0], theirs[1], theirs[2]},
	})
	for _, f := range theirs {
		_ = f.Close()
	}
	if err != nil {
		return err
	}
	s.pid, s.life = p.Pid, ours[2]
	s.reading.Go(func() { s.ended.Said = tail(ours[0]) })
	s.reading.Go(func() { s.listen(ours[1]) })
	go s.wait()
	return p.Release()
}

// tail reads to the end and gives the last of it.
func tail(r io.Reader) []byte {
	var all bytes.Buffer
	buf := make([]byte, 4096)
	for {
		n, err := r.Read(buf)
		all.Write(buf[:n])
		if over := all.Len() - mostSaid; over > 0 {
			all.Next(over)
		}
		if err != nil {
			return all.Bytes()
		}
	}
}

// listen reads what the child tells.
func (s *supervisor) listen(r io.Reader) {
	for lines := bufio.NewScanner(r); lines.Scan(); {
		switch folder, ok := strings.CutPrefix(lines.Text(), tellFolder); {
		case ok:
			s.ended.Folders = append(s.ended.Folders, folder)
		case lines.Text() == tellDone:
			s.ended.Orderly = true
		}
	}
}

// wait hears of the child's stops and of its end.
func (s *supervisor) wait() {
	for {
		var status syscall.WaitStatus
		_, err := syscall.Wait4(s.pid, &status, syscall.WUNTRACED|syscall.WCONTINUED, nil)
		if err == syscall.EINTR {
			continue
		}
		s.waits <- status
		if err != nil || status.Exited() || status.Signaled() {
			return
		}
	}
}

// settles is how long a child must have been stopped for this process to stop
// with it. When a whole group is let go on, it may run a moment before its child
// does, and see that stopped once more.
const settles = 20 * time.Millisecond

// watch passes signals on until the child has ended.
func (s *supervisor) watch() syscall.WaitStatus {
	var late, stopped <-chan time.Time
	asked := false // the child knows of the signal by which it is to stop
	var by syscall.Signal
	for {
		select {
		case status := <-s.waits:
			switch {
			case status.Stopped():
				stopped, by = time.After(settles), status.StopSignal()
			case status.Continued():
				stopped = nil
			default:
				return status
			}
		case <-stopped:
			stopped = nil
			s.stop(by, asked)
			asked = false
		case sig := <-s.signals:
			switch sig {
			case syscall.SIGTSTP:
				if !s.job {
					continue
				}
				asked = true
			case syscall.SIGCONT:
				asked = false
			default:
				late = time.After(endTime)
			}
			s.pass(sig.(syscall.Signal))
		case <-late:
			s.pass(syscall.SIGKILL)
		}
	}
}

func (s *supervisor) pass(sig syscall.Signal) { _ = syscall.Kill(s.pid, sig) }

// stop stops this process, as its child has been, so that the shell goes on. A
// child that was stopped without being asked has not given the terminal back.
// Where there is no shell, or none any more, as when its window was closed, whoever
// has stopped the child lets it go on.
func (s *supervisor) stop(by syscall.Signal, asked bool) {
	if !s.job || !job() {
		return
	}
	if !asked && by == syscall.SIGSTOP {
		s.o.GiveBack()
	}
	_ = syscall.Kill(os.Getpid(), syscall.SIGSTOP)
}

// stopGroup stops this process and those that belong to it.
func stopGroup() { _ = syscall.Kill(0, syscall.SIGTSTP) }

func closeOnExec(fd int) { syscall.CloseOnExec(fd) }
