package storage

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"

	"example.org/tuckrow/model"
	"github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/table"
)

// checkTables looks at the end of each of Badger's tables: of one that is cut
// short, Badger ends the program from a goroutine of its own.
func (s *Store) checkTables(list badger.Manifest) error {
	for id := range list.Tables {
		path := table.NewFilename(id, s.badgerDir())
		err := checkTable(path)
		if errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%w: the table %s is not there", model.ErrDamaged, filepath.Base(path))
		}
		if err != nil {
			return fmt.Errorf("the table %s: %w", filepath.Base(path), err)
		}
	}
	return nil
}

var errTable = fmt.Errorf("%w: it is cut short, or its index is damaged", model.ErrDamaged)

// checkTable checks a table's index, which stands at its end as Badger v4 writes
// it: the index, its length, a checksum (CRC-32C, in a protocol buffer message),
// the length of that; lengths are four bytes, big-endian.
func checkTable(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close() // only read
	info, err := f.Stat()
	if err != nil {
		return err
	}
	end := info.Size()
	take := func(n int64) []byte {
		if n < 0 || n > end {
			return nil
		}
		b := make([]byte, n)
		end -= n
		if _, err := f.ReadAt(b, end); err != nil {
			return nil
		}
		return b
	}
	length := func() int64 {
		if b := take(4); b != nil {
			return int64(binary.BigEndian.Uint32(b))
		}
		return -1
	}
	checksum := take(length())
	index := take(length())
	// The message has the sum as field 2; field 1, the kind of sum, is left out
	// for CRC-32C, which is 0.
	const field2 = 2 << 3
	if len(checksum) < 2 || checksum[0] != field2 || len(index) == 0 {
		return errTable
	}
	sum, n := binary.Uvarint(checksum[1:])
	if n != len(checksum)-1 || sum != uint64(crc32.Checksum(index, castag)) {
		return errTable
	}
	return nil
}
