//go:build unix

package frame

import (
	"os"
	"os/signal"
	"syscall"
)

// jobSignals are those of a shell's job control.
var jobSignals = []os.Signal{syscall.SIGCONT, syscall.SIGTSTP}

func isContinue(s os.Signal) bool { return s == syscall.SIGCONT }

func isSuspend(s os.Signal) bool { return s == syscall.SIGTSTP }

// Run stops the process until somebody lets it go on. Bubble Tea gives up the
// terminal before and takes it again after, which must not be while the stop
// is still on its way. Whoever has sent SIGTSTP sees to what else belongs to
// the job.
func (asleep) Run() error {
	goesOn := make(chan os.Signal, 1)
	signal.Notify(goesOn, syscall.SIGCONT)
	defer signal.Stop(goesOn)
	if err := syscall.Kill(os.Getpid(), syscall.SIGSTOP); err != nil {
		return err
	}
	<-goesOn
	return nil
}
