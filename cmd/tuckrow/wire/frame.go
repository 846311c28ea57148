package wire

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"net"
	"sync"
	"time"

	"github.com/fxamacker/cbor/v2"
)

// version of the frames and of what is in them. Both ends are mostly the same
// program; a newer one beside an older one says so instead of guessing.
const version = 1

// magic begins every conversation.
const magic = "tuckrow"

const (
	mostFrame = 1 << 20  // bytes in a frame; a system's limit on a command line is mostly 2 MiB
	mostChunk = 32 << 10 // bytes of a file or of output that go at a time
)

// writeTime is how long a peer may leave a frame unread.
const writeTime = 10 * time.Second

// kind is what a frame is.
type kind byte

// From who types, then from who has the store.
const (
	kindHello  kind = 'h'
	kindGo     kind = 'g'
	kindAnswer kind = 'a'
	kindCancel kind = 'c'

	kindReady   kind = 'r'
	kindRefused kind = 'n'
	kindOut     kind = 'o'
	kindErr     kind = 'e'
	kindAsk     kind = 'f'
	kindExit    kind = 'x'
)

// Command is what is typed, and where what it prints goes to.
type Command struct {
	Args  []string `cbor:"1,keyasint"`
	OutTo bool     `cbor:"2,keyasint,omitempty"` // the output is a terminal
	ErrTo bool     `cbor:"3,keyasint,omitempty"` // and so is where errors go, and one that can draw over a line
}

// readiness is what ready carries.
type readiness struct {
	Rev uint64 `cbor:"1,keyasint"`
}

// refusal is what refused carries.
type refusal struct {
	Text  string `cbor:"1,keyasint"`
	Again bool   `cbor:"2,keyasint,omitempty"` // it may be otherwise in a moment
}

// What can be asked of who types.
const (
	opInput  = "input"  // read on from the command's input
	opOpen   = "open"   // open a file for reading
	opRead   = "read"   // read on from it
	opCreate = "create" // begin a file
	opWrite  = "write"  // write on to it
	opKeep   = "keep"   // put it in its place
	opClose  = "close"  // be done with a file; one that was not kept is forgotten
)

// question is what ask carries.
type question struct {
	Op   string `cbor:"1,keyasint"`
	File uint32 `cbor:"2,keyasint,omitempty"`
	Name string `cbor:"3,keyasint,omitempty"`
	Data []byte `cbor:"4,keyasint,omitempty"`
	// Replace lets a file take the place of one that is there.
	Replace bool `cbor:"5,keyasint,omitempty"`
}

// reply is what answer carries.
type reply struct {
	File  uint32 `cbor:"1,keyasint,omitempty"`
	Data  []byte `cbor:"2,keyasint,omitempty"`
	End   bool   `cbor:"3,keyasint,omitempty"`
	Size  int64  `cbor:"5,keyasint,omitempty"` // of a file, in bytes; 0: not known
	Fault *fault `cbor:"4,keyasint,omitempty"`
}

// errGarbage: what came is not of this protocol.
var errGarbage = errors.New("this is no conversation of tuckrow's")

// conn frames what goes over a connection. One goroutine may read, and any
// may write.
type conn struct {
	net.Conn
	in *bufio.Reader

	mu        sync.Mutex // one frame at a time is written
	out       []byte
	writeTime time.Duration
}

func newConn(c net.Conn) *conn { return &conn{Conn: c, in: bufio.NewReader(c), writeTime: writeTime} }

// read reads the next frame. Only as much memory is taken as has come.
func (c *conn) read() (kind, []byte, error) {
	var head [5]byte
	if _, err := io.ReadFull(c.in, head[:1]); err != nil {
		return 0, nil, err
	}
	k := kind(head[0])
	if !bytes.ContainsRune([]byte("hgacrnoefx"), rune(k)) {
		return k, nil, fmt.Errorf("%w: it sends %q", errGarbage, head[:1])
	}
	if _, err := io.ReadFull(c.in, head[1:]); err != nil {
		return k, nil, cut(err)
	}
	n := binary.BigEndian.Uint32(head[1:])
	if n > mostFrame {
		return k, nil, fmt.Errorf("%w: a frame of %d bytes, and %d is the most", errGarbage, n, mostFrame)
	}
	var payload bytes.Buffer
	if _, err := io.CopyN(&payload, c.in, int64(n)); err != nil {
		return k, nil, cut(err)
	}
	return k, payload.Bytes(), nil
}

// cut: an end in the middle is not the end.
func cut(err error) error {
	if err == io.EOF {
		return io.ErrUnexpectedEOF
	}
	return err
}

// write sends a frame, or fails when the peer does not take it in time.
func (c *conn) write(k kind, payload []byte) error {
	if len(payload) > mostFrame {
		return fmt.Errorf("%d bytes do not fit a frame; %d is the most", len(payload), mostFrame)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.out = append(c.out[:0], byte(k), 0, 0, 0, 0)
	binary.BigEndian.PutUint32(c.out[1:], uint32(len(payload)))
	c.out = append(c.out, payload...)
	if err := c.SetWriteDeadline(time.Now().Add(c.writeTime)); err != nil {
		return err
	}
	_, err := c.Conn.Write(c.out)
	return err
}

// send sends a value as a frame.
func (c *conn) send(k kind, v any) error {
	b, err := cbor.Marshal(v)
	if err != nil {
		return err
	}
	return c.write(k, b)
}

// decoder takes what a peer may send: flat, short, nothing twice. Arguments
// and names of files are as the system has them, which need not be UTF-8.
var decoder = func() cbor.DecMode {
	m, err := cbor.DecOptions{
		UTF8:              cbor.UTF8DecodeInvalid,
		DupMapKey:         cbor.DupMapKeyEnforcedAPF,
		IndefLength:       cbor.IndefLengthForbidden,
		TagsMd:            cbor.TagsForbidden,
		MaxArrayElements:  1 << 16,
		MaxMapPairs:       16,
		MaxNestedLevels:   4,
		ExtraReturnErrors: cbor.ExtraDecErrorUnknownField,
	}.DecMode()
	if err != nil {
		panic(err)
	}
	return m
}()

func decode(b []byte, v any) error {
	if err := decoder.Unmarshal(b, v); err != nil {
		return fmt.Errorf("%w: %v", errGarbage, err)
	}
	return nil
}

// helloOf writes a hello.
func helloOf(typed Command) ([]byte, error) {
	b, err := cbor.Marshal(typed)
	return append(append([]byte(magic), version), b...), err
}

// parseHello reads a hello. Of another version it reads no more than that.
func parseHello(b []byte) (v byte, r Command, err error) {
	rest, ok := bytes.CutPrefix(b, []byte(magic))
	if !ok || len(rest) == 0 {
		return 0, r, fmt.Errorf("%w: it begins with %.40q", errGarbage, b)
	}
	if rest[0] != version {
		return rest[0], r, nil
	}
	return version, r, decode(rest[1:], &r)
}
