//go:build unix

package wire

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"net"
	"strings"
	"syscall"
	"testing"
	"time"
)

func TestFramesThereAndBack(t *testing.T) {
	a, b := net.Pipe()
	from, to := newConn(a), newConn(b)
	for _, n := range []int{0, 1, mostChunk, mostFrame} {
		payload := []byte(strings.Repeat("x", n))
		go func() {
			if err := from.write(kindOut, payload); err != nil {
				t.Error(err)
			}
		}()
		k, got, err := to.read()
		if err != nil || k != kindOut || string(got) != string(payload) {
			t.Errorf("of %d bytes %d came as %q: %v", n, len(got), k, err)
		}
	}
	if err := from.write(kindOut, make([]byte, mostFrame+1)); err == nil {
		t.Error("a frame that is too long was sent")
	}
}

// garbage is what is no conversation, by what is wrong with it.
var garbage = map[string][]byte{
	"another protocol":          []byte("GET / HTTP/1.1\r\n\r\n"),
	"control sequences":         []byte("\x1b[2J\x1b]0;x\x07"),
	"a frame that is too long":  framed(kindHello, mostFrame+1, nil),
	"no magic":                  framed(kindHello, 4, []byte("look")),
	"magic alone":               framed(kindHello, 7, []byte(magic)),
	"no hello":                  framed(kindGo, 0, nil),
	"a hello that is no CBOR":   framed(kindHello, 12, []byte(magic+"\x01\xff\xff\xff\xff")),
	"a hello with more in it":   framed(kindHello, 12, []byte(magic+"\x01\xa1\x09\x61x")),
	"a hello of endless length": framed(kindHello, 17, []byte(magic+"\x01\xa1\x01\x9b\x00\x00\x00\x7f\xff\xff")),
}

func framed(k kind, n uint32, payload []byte) []byte {
	return append(binary.BigEndian.AppendUint32([]byte{byte(k)}, n), payload...)
}

func TestGarbageIsRefused(t *testing.T) {
	for what, bytes := range garbage {
		t.Run(what, func(t *testing.T) {
			h := serve(t, func(context.Context, Call) int {
				t.Error("a command was run")
				return 0
			})
			c, _, err := dial(h.store)
			if err != nil {
				t.Fatal(err)
			}
			defer c.Close()
			if _, err := c.Write(bytes); err != nil {
				t.Fatal(err)
			}
			k, payload, err := newConn(c).read()
			var r refusal
			if err == nil {
				err = decode(payload, &r)
			}
			if err != nil || k != kindRefused || r.Again || !strings.Contains(r.Text, errGarbage.Error()) {
				t.Errorf("the answer is %q %q (%v), want that it was refused", k, payload, err)
			}
			h.wantLogged(t, errGarbage.Error(), 1)
			for _, line := range h.lines {
				if strings.ContainsAny(line, "\x1b\r\n\x07") {
					t.Errorf("control characters in the log: %q", line)
				}
			}
		})
	}
}

// Garbage in the middle ends a command, and nothing else.
func TestGarbageWhileACommandRuns(t *testing.T) {
	for what, bytes := range map[string][]byte{
		"a second hello":            framed(kindHello, 0, nil),
		"an answer that is no CBOR": framed(kindAnswer, 2, []byte("\xff\xff")),
		"no frame":                  []byte("more, please"),
		"an end in a frame":         framed(kindAnswer, 9, []byte("short")),
	} {
		t.Run(what, func(t *testing.T) {
			begun, ended := make(chan struct{}), make(chan struct{})
			h := serve(t, func(ctx context.Context, c Call) int {
				close(begun)
				<-ctx.Done()
				close(ended)
				return 0
			})
			s, err := Dial(context.Background(), h.store, Command{})
			if err == nil {
				err = s.conn.write(kindGo, nil)
			}
			if err != nil {
				t.Fatal(err)
			}
			<-begun
			if _, err := s.conn.Conn.Write(bytes); err != nil {
				t.Fatal(err)
			}
			_ = s.conn.Conn.(*net.UnixConn).CloseWrite()
			<-ended
			s.Close()
		})
	}
}

// A peer that says nothing, or half of something, is not waited for for ever.
func TestAPeerThatSaysNothingInTime(t *testing.T) {
	h := serve(t, func(context.Context, Call) int { return 0 }, func(s *Server) { s.helloTime = 10 * time.Millisecond })
	for i, bytes := range [][]byte{nil, framed(kindHello, 99, []byte("half"))} {
		c, _, err := dial(h.store)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		if _, err := c.Write(bytes); err != nil && !errors.Is(err, syscall.EPIPE) { // late already, on a busy machine
			t.Fatal(err)
		}
		if _, err := io.ReadAll(c); err != nil && !errors.Is(err, io.EOF) && !strings.Contains(err.Error(), "reset") {
			t.Error(err)
		}
		h.wantLogged(t, "timeout", i+1)
	}
}

func TestAnotherVersionIsTold(t *testing.T) {
	h := serve(t, func(context.Context, Call) int { return 0 })
	c, p, err := dial(h.store)
	if err != nil {
		t.Fatal(err)
	}
	s := newSession(c, p.pid)
	defer s.Close()
	var refused *RefusedError
	if err := s.greet(context.Background(), fmt.Appendf(nil, "%s%c and what a later one sends", magic, version+1)); !errors.As(err, &refused) || !strings.Contains(err.Error(), "another version") {
		t.Errorf("the error is %v", err)
	}
}

// A command line that fits no frame is not sent in part.
func TestALineThatIsTooLong(t *testing.T) {
	h := serve(t, func(context.Context, Call) int { return 0 })
	var refused *RefusedError
	if _, err := Dial(context.Background(), h.store, Command{Args: []string{strings.Repeat("x", mostFrame)}}); !errors.As(err, &refused) {
		t.Errorf("the error is %v", err)
	}
}
