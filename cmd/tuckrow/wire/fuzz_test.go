//go:build unix

package wire

import (
	"context"
	"encoding/binary"
	"io"
	"net"
	"strings"
	"testing"

	"github.com/fxamacker/cbor/v2"
)

// spoken writes frames one behind the other.
func spoken(frames ...any) []byte {
	var out []byte
	for i := 0; i < len(frames); i += 2 {
		b, raw := frames[i+1].([]byte)
		if !raw {
			b, _ = cbor.Marshal(frames[i+1])
		}
		out = append(binary.BigEndian.AppendUint32(append(out, byte(frames[i].(kind))), uint32(len(b))), b...)
	}
	return out
}

// FuzzServer: whatever a peer sends, the conversation ends, and a command is
// run only behind a whole hello and a go.
func FuzzServer(f *testing.F) {
	hello, err := helloOf(Command{Args: []string{"find", "cape"}})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(spoken(kindHello, hello, kindGo, []byte{}))
	f.Add(spoken(kindHello, hello, kindGo, []byte{}, kindAnswer, reply{Data: []byte("typed"), End: true}, kindAnswer, reply{File: 1}, kindAnswer, reply{Fault: &fault{Text: "full", Errno: 28}}))
	f.Add(spoken(kindHello, hello, kindGo, []byte{}, kindCancel, []byte{}))
	f.Add(spoken(kindHello, hello, kindAnswer, reply{}))
	for _, b := range garbage {
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, sent []byte) {
		ran := false
		s := &Server{Rev: func() uint64 { return 1 }, Log: func(text string) {
			if strings.ContainsAny(text, "\x1b\x07\r") {
				t.Errorf("control characters in the log: %q", text)
			}
		}, Run: func(_ context.Context, c Call) int {
			ran = true
			_, _ = io.ReadAll(c.In)
			if file, err := c.Files.Open("x"); err == nil {
				_, _ = io.ReadAll(file)
			}
			if file, err := c.Files.Create("y", true); err == nil {
				_, _ = file.Write([]byte("z"))
				_ = file.Keep()
			}
			_, _ = io.WriteString(c.Out, "found")
			return 0
		}}
		ours, theirs := net.Pipe()
		go func() { _, _ = io.Copy(io.Discard, theirs) }()
		go func() {
			_, _ = theirs.Write(sent)
			_ = theirs.Close()
		}()
		talk := s.talkTo(ours)
		if !s.enter(talk) {
			t.Fatal("not let in")
		}
		_ = talk.hold()
		s.leave(talk)
		if ran && !wellBegun(sent) {
			t.Errorf("a command was run for %q", sent)
		}
	})
}

// wellBegun reads hello and go in a way of its own.
func wellBegun(b []byte) bool {
	take := func(k kind) (payload []byte, ok bool) {
		if len(b) < 5 || b[0] != byte(k) {
			return nil, false
		}
		n := int(binary.BigEndian.Uint32(b[1:]))
		if n > len(b)-5 {
			return nil, false
		}
		payload, b = b[5:5+n], b[5+n:]
		return payload, true
	}
	hello, ok := take(kindHello)
	if !ok || !strings.HasPrefix(string(hello), "tuckrow\x01") {
		return false
	}
	_, ok = take(kindGo)
	return ok
}

// FuzzSession: whatever answers, a command ends here too, and a file is kept
// only when that was asked for.
func FuzzSession(f *testing.F) {
	ready := readiness{41}
	f.Add(spoken(kindReady, ready, kindOut, []byte("found"), kindErr, []byte("so so"), kindExit, []byte{0}))
	f.Add(spoken(kindReady, ready, kindAsk, question{Op: opInput}, kindAsk, question{Op: opOpen, Name: "x"}, kindAsk, question{Op: opRead, File: 1}, kindAsk, question{Op: opClose, File: 1}))
	f.Add(spoken(kindReady, ready, kindAsk, question{Op: opCreate, Name: "y"}, kindAsk, question{Op: opWrite, File: 1, Data: []byte("z")}, kindAsk, question{Op: opKeep, File: 1}, kindExit, []byte{3}))
	f.Add(spoken(kindRefused, refusal{"no", true}))
	f.Add(spoken(kindReady, ready, kindRefused, refusal{"no", false}))
	f.Fuzz(func(t *testing.T, sent []byte) {
		ours, theirs := net.Pipe()
		go func() { _, _ = io.Copy(io.Discard, theirs) }()
		go func() {
			_, _ = theirs.Write(sent)
			_ = theirs.Close()
		}()
		s := newSession(ours, 0)
		hello, _ := helloOf(Command{})
		if err := s.greet(context.Background(), hello); err != nil {
			s.Close()
			return
		}
		files := &paper{}
		_, _ = s.Run(context.Background(), Terminal{strings.NewReader("typed"), io.Discard, io.Discard, files})
		if files.kept > 0 && !strings.Contains(string(sent), opKeep) || files.open != 0 {
			t.Errorf("%d files were kept and %d left open for %q", files.kept, files.open, sent)
		}
	})
}

// paper is files that are nowhere.
type paper struct{ kept, open int }

func (p *paper) Open(string) (io.ReadCloser, error) {
	p.open++
	return sheet{strings.NewReader("written"), p}, nil
}

func (p *paper) Create(string, bool) (Draft, error) {
	p.open++
	return sheet{nil, p}, nil
}

type sheet struct {
	io.Reader
	of *paper
}

func (s sheet) Write(b []byte) (int, error) { return len(b), nil }

func (s sheet) Keep() error {
	s.of.kept++
	return nil
}

func (s sheet) Close() error {
	s.of.open--
	return nil
}
