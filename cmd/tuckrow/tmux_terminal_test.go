package main

import (
	"fmt"
	"strings"
	"syscall"
	"time"
)

// paste pastes text as a terminal does that brackets it.
func (x *terminal) paste(text string) {
	x.Helper()
	x.tmux("set-buffer", text)
	x.tmux("paste-buffer", "-p")
}

// become waits until the screen is just this again.
func (x *terminal) become(screen string) {
	x.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if x.screen() == screen {
			return
		}
	}
	x.Fatalf("the screen is\n%s\nand was\n%s", x.screen(), screen)
}

// quit leaves the program, and the terminal has to be the shell's again.
func (x *terminal) quit() {
	x.Helper()
	x.keys("C-q")
	x.wait("left with 0")
	x.keys("'echo sh''ell", "Enter")
	x.wait("shell\n")
	x.keys("'clear", "Enter")
}

// quitted waits until there is no such program any more.
func (x *terminal) quitted() {
	x.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if len(x.running()) == 0 {
			return
		}
	}
	x.Fatalf("the program does not end\n%s", x.screen())
}

// However it was stopped, the shell works meanwhile, and when it goes on the
// screen is whole, and it takes Enter by both its names: in the mode that a shell
// leaves a terminal in, Enter is ctrl+j. Ctrl+z does not stop it, since here it
// takes back the last change.
func stoppedAndContinued(x *terminal) {
	listed := x.demo()
	x.tmux("send-keys", "-l", x.bin+" --store "+x.store)
	x.keys("Enter")
	x.wait("tuckrow: Find")
	for i, stop := range []func(){
		func() { x.signal(syscall.SIGTSTP) }, func() { x.signal(syscall.SIGSTOP) },
	} {
		number := fmt.Sprint(7001 + i)
		x.keys("C-n", "'"+number)
		x.wait("Number      " + number)
		before := x.screen()
		stop()
		x.wait("Stopped")
		x.keys("'echo in the sh''ell", "Enter")
		x.wait("in the shell")
		x.keys("'fg", "Enter")
		x.become(before)
		enter := []string{"Enter", "C-j"}
		x.keys(enter[i%2], "'Cape", enter[(i+1)%2])
		x.wait(fmt.Sprintf("%d entered", i+1))
	}
	x.keys("C-z")
	x.wait("undid: added 7002 Cape")
	x.keys("C-q")
	x.quitted()
	if n := x.stored().Copies().Len(); n != listed+1 {
		x.Errorf("%d copies are stored, want one more than %d", n, listed)
	}
}

// Over ssh the program may meet any of these. The keys have the same effect and
// the text is the same in all of them; only colours differ.
func kindsOfTerminal(x *terminal) {
	x.demo()
	first := ""
	for _, term := range []string{"xterm", "xterm-256color", "screen", "tmux-256color", "linux", "vt100"} {
		x.open("TERM=" + term)
		x.keys("'dress", "Down", "Down", "Up")
		x.wait("place 39 ·")
		x.keys("C-b")
		x.wait("3 boxes")
		x.keys("Down", "Enter", "NPage", "Home", "Right", "End")
		x.wait("Box 3 ")
		x.wait("place 111 of 111")
		if first == "" {
			first = x.screen()
		}
		x.become(first)
		x.quit()
	}
}

// Several lines pasted are text, and press nothing: one line in a field; for each
// a reading where a box is read; nothing where there is no field.
func pasteIntoEveryField(x *terminal) {
	const lines = "wrap\tdress\nand more\n"
	listed := x.demo()
	x.open()
	x.paste(lines)
	x.wait("→ Look for  wrap dress and more")
	x.keys("C-n")
	x.wait("→ Number")
	x.paste(lines)
	x.wait("→ Number      wrap dress and more▏")
	x.keys("C-r")
	x.wait("to pull")
	x.paste(lines)
	x.wait("nothing here takes text, so what was pasted was left out")
	x.keys("C-p")
	x.wait("boxes (1 to get)")
	x.keys("'l")
	x.paste("400\nmm\n")
	x.wait("length of box 1")
	x.wait("400")
	x.keys("Escape")
	x.keys("C-b")
	x.wait("3 boxes")
	x.keys("'r")
	x.paste("4124\n4137\nhalf")
	x.wait("2 read of 112 recorded")
	x.wait("→ On it is  half▏")
	x.keys("Escape")
	x.wait("place 1 of 112") // an e that came right behind would be alt+e
	x.keys("'e", "Enter", "Tab", "Tab", "C-u")
	x.paste(lines)
	x.wait("→ place               wrap dress and more▏")
	x.quit()
	if n := x.stored().Copies().Len(); n != listed {
		x.Errorf("%d copies are stored, and were %d: a paste has entered something", n, listed)
	}
}

// Under the least size the program says what it needs, and loses nothing.
func tooSmallAndBack(x *terminal) {
	x.demo()
	x.open()
	x.keys("'wrap dress")
	x.wait("1 pattern:")
	whole := x.screen()
	for _, size := range [][2]string{{"39", "24"}, {"80", "9"}, {"20", "5"}, {"1", "1"}} {
		x.tmux("resize-window", "-x", size[0], "-y", size[1])
		if size[0] != "1" {
			x.wait("tuckrow needs")
		}
		x.tmux("resize-window", "-x", "80", "-y", "24")
		x.become(whole)
	}
	x.quit()
}

// Who wants no colour gets none, nor anything else but text: and yet sees where
// letters go, and what is chosen.
func noColour(x *terminal) {
	x.demo()
	for _, c := range []struct {
		env    []string
		colour bool
	}{{[]string{"TERM=xterm-256color"}, true}, {[]string{"TERM=xterm-256color", "COLORTERM=truecolor", "NO_COLOR=1"}, false}} {
		x.open(append(c.env, "CI=")...) // termenv takes a machine of continuous integration to have no terminal
		x.keys("'dress", "Down")
		x.wait("→ Look for  dress▏")
		x.wait("→ Harrow & Pell       6131")
		if got := strings.Contains(x.tmux("capture-pane", "-p", "-e"), "\x1b["); got != c.colour {
			x.Errorf("with %q there are escape sequences: %v\n%q", c.env, got, x.tmux("capture-pane", "-p", "-e"))
		}
		x.quit()
	}
}
