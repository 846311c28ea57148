//go:build unix

package main

import (
	"encoding/binary"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/cmd/tuckrow/wire"
	"github.com/fxamacker/cbor/v2"
)

// Peers that send what is none of ours, or nothing, or never read, harm nobody
// else.
func TestBadPeers(t *testing.T) {
	store := newStore(t)
	var csv strings.Builder
	csv.WriteString("publisher,number,name\n")
	for i := range 20_000 {
		fmt.Fprintf(&csv, "Quillon,%d,Cape\n", 10+i)
	}
	file := filepath.Join(t.TempDir(), "many.csv")
	if err := os.WriteFile(file, []byte(csv.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	must(t, store, "import", file)
	showing := openInterface(t, store)
	call := func() net.Conn {
		c, err := net.Dial("unix", socketOf(t))
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = c.Close() })
		return c
	}
	for _, text := range []string{"GET / HTTP/1.1\r\n\r\n", "\x00\x00\x00\x00\x00", "h\xff\xff\xff\xff", "h\x00\x00\x00\x03abc", ""} {
		if _, err := io.WriteString(call(), text); err != nil {
			t.Fatal(err)
		}
	}
	// This one has something run that prints megabytes, and reads but the first
	// byte of that.
	silent := call()
	typed, err := cbor.Marshal(wire.Command{Args: []string{"export", "--as", "jsonl"}})
	if err != nil {
		t.Fatal(err)
	}
	hello := append([]byte("tuckrow\x01"), typed...)
	conversation := append([]byte{'h', 0, 0, 0, byte(len(hello))}, hello...)
	if _, err := silent.Write(append(conversation, 'g', 0, 0, 0, 0)); err != nil {
		t.Fatal(err)
	}
	var head [5]byte
	var first [1]byte
	for first[0] != 'o' {
		if _, err := io.ReadFull(silent, first[:]); err != nil {
			t.Fatal(err)
		}
		if first[0] == 'r' { // that it is ready
			if _, err := io.ReadFull(silent, head[1:]); err != nil {
				t.Fatal(err)
			}
			if _, err := io.CopyN(io.Discard, silent, int64(binary.BigEndian.Uint32(head[1:]))); err != nil {
				t.Fatal(err)
			}
		}
	}
	must(t, store, "add", "publisher=Quillon", "number=2")
	showing.wait("from another terminal: added 2")
	showing.quit()
}
