package ground

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/creack/pty"
)

func TestDecide(t *testing.T) {
	for _, c := range []struct {
		name, said, fgbg string
		dark             bool
	}{
		{"nothing known", "", "", true},
		{"said light", "light", "", false},
		{"said dark", "dark", "0;15", true},
		{"said in capitals", " Light ", "15;0", false},
		{"said something else", "pink", "0;15", false},
		{"white", "", "0;15", false},
		{"grey", "", "0;7", false},
		{"dark grey", "", "15;8", true},
		{"black", "", "15;0", true},
		{"three fields", "", "0;default;15", false},
		{"default", "", "15;default", true},
		{"one field", "", "15", true},
		{"out of range", "", "0;16", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			env := map[string]string{Variable: c.said, "COLORFGBG": c.fgbg}
			if got := decide(func(k string) string { return env[k] }); got != c.dark {
				t.Errorf("dark = %v, want %v", got, c.dark)
			}
		})
	}
}

// question is how a terminal is asked for its background.
const question = "\x1b]11;?"

// onSilentTerminal builds and runs a program on a terminal that never answers,
// and gives what it wrote until a text was seen or it ended.
func onSilentTerminal(t *testing.T, program string, until ...string) string {
	t.Helper()
	bin := filepath.Join(t.TempDir(), program)
	if out, err := exec.Command("go", "build", "-o", bin, "./testdata/"+program).CombinedOutput(); err != nil {
		t.Fatalf("building %s: %v\n%s", program, err, out)
	}
	cmd := exec.Command(bin)
	// CI and a TERM of tmux would keep the question from being asked at all.
	for _, v := range os.Environ() {
		if !strings.HasPrefix(v, "CI=") && !strings.HasPrefix(v, "COLORFGBG=") {
			cmd.Env = append(cmd.Env, v)
		}
	}
	cmd.Env = append(cmd.Env, "TERM=xterm-256color", Variable+"=light")
	tty, err := pty.Start(cmd)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		_ = tty.Close()
	}()
	var seen bytes.Buffer
	buf := make([]byte, 256)
	for {
		n, err := tty.Read(buf)
		seen.Write(buf[:n])
		for _, u := range until {
			if strings.Contains(seen.String(), u) {
				return seen.String()
			}
		}
		if err != nil { // the program has ended
			return seen.String()
		}
	}
}

func TestNothingIsWrittenBeforeMain(t *testing.T) {
	if got, want := onSilentTerminal(t, "quiet"), "first words: {} false\r\n"; got != want {
		t.Errorf("the terminal saw %q, want only %q", got, want)
	}
}

// Should this fail, Bubble Tea has stopped asking, and ground can go.
func TestWithoutGroundTheTerminalIsAsked(t *testing.T) {
	got := onSilentTerminal(t, "asks", question, "first words")
	if !strings.Contains(got, question) {
		t.Errorf("the terminal saw %q, want the question %q in it", got, question)
	}
}
