// Command scan opens a Badger store and reads every record's bytes: what no
// program that looks something up in it could do without. The benchmark of find
// as a whole process is measured against it.
package main

import (
	"fmt"
	"os"

	"github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"
)

func main() {
	n, err := scan(os.Args[1])
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Println(n)
}

// scan counts the bytes of all records, with the options that tuckrow opens its
// store with.
func scan(dir string) (n int, err error) {
	db, err := badger.Open(badger.DefaultOptions(dir).
		WithSyncWrites(true).WithMemTableSize(8 << 20).WithNumMemtables(2).WithNumCompactors(2).
		WithValueThreshold(1 << 20).WithValueLogFileSize(1 << 20).WithBaseTableSize(2 << 20).
		WithCompression(options.None).WithBlockCacheSize(0).WithCompactL0OnClose(true).
		WithChecksumVerificationMode(options.OnTableRead).WithNumVersionsToKeep(1).
		WithMetricsEnabled(false).WithLogger(nil))
	if err != nil {
		return 0, err
	}
	err = db.View(func(txn *badger.Txn) error {
		it := txn.NewIterator(badger.IteratorOptions{Prefix: []byte{'r'}})
		defer it.Close()
		for it.Rewind(); it.Valid(); it.Next() {
			if err := it.Item().Value(func(b []byte) error { n += len(b); return nil }); err != nil {
				return err
			}
		}
		return nil
	})
	if closing := db.Close(); err == nil {
		err = closing
	}
	return n, err
}
