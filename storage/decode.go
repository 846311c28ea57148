package storage

import (
	"fmt"
	"runtime"
	"sync"

	"example.org/tuckrow/model"
	"github.com/dgraph-io/badger/v4"
)

// batch is some records on their way from disk to memory.
type batch struct {
	keys, values [][]byte
	records      []model.Record
	state        state // what they come to
	bad          error // of the record behind the last
	done         chan struct{}
}

// most records in a batch: enough that handing it on costs nothing beside it.
const batched = 1 << 10

// decoded gives all records in the order of their keys. They are read by one
// goroutine and decoded by as many as there are processors. What they come to is
// in st when all were given, and in bad what is wrong with the record after the
// last that was.
func (s *Store) decoded(st *state, bad *error) func(yield func(model.Record) bool) {
	return func(yield func(model.Record) bool) {
		n := runtime.GOMAXPROCS(0)
		work, inOrder, stop := make(chan *batch, n), make(chan *batch, 2*n), make(chan struct{})
		var all sync.WaitGroup
		defer all.Wait()
		defer close(stop)
		all.Go(func() {
			defer close(work)
			defer close(inOrder)
			s.batches(func(b *batch) bool {
				select {
				case inOrder <- b:
				case <-stop:
					return false
				}
				work <- b
				return true
			})
		})
		for range n {
			all.Go(func() {
				for b := range work {
					b.decode()
				}
			})
		}
		for b := range inOrder {
			<-b.done
			for _, r := range b.records {
				if !yield(r) {
					return
				}
			}
			st.n, st.sum = st.n+b.state.n, st.sum+b.state.sum
			if b.bad != nil {
				*bad = b.bad
				return
			}
		}
	}
}

// batches reads the records as they lie on disk.
func (s *Store) batches(give func(*batch) bool) {
	_ = s.db.View(func(txn *badger.Txn) error {
		// Values lie in the tables themselves, so there is nothing to prefetch.
		it := txn.NewIterator(badger.IteratorOptions{Prefix: []byte{keyRecord}})
		defer it.Close()
		b := &batch{done: make(chan struct{})}
		var buf []byte
		for it.Rewind(); it.Valid(); it.Next() {
			item := it.Item()
			from := len(buf)
			buf = append(buf, item.Key()...)
			mid := len(buf)
			if b.bad = item.Value(func(v []byte) error { buf = append(buf, v...); return nil }); b.bad != nil {
				break
			}
			b.keys, b.values = append(b.keys, buf[from:mid:mid]), append(b.values, buf[mid:len(buf):len(buf)])
			if len(b.keys) == batched {
				if !give(b) {
					return nil
				}
				b, buf = &batch{done: make(chan struct{})}, make([]byte, 0, len(buf)+len(buf)/8)
			}
		}
		give(b)
		return nil
	})
}

func (b *batch) decode() {
	defer close(b.done)
	b.records = make([]model.Record, 0, len(b.keys))
	for i, key := range b.keys {
		r, err := decode(key, b.values[i])
		if err != nil {
			b.bad = err
			return
		}
		b.state.add(key, b.values[i])
		b.records = append(b.records, r)
	}
}

// decode reads a record.
func decode(key, value []byte) (r model.Record, err error) {
	kind, id, ok := parseRecordKey(key)
	if ok {
		r = kind.New()
	}
	if r == nil {
		return nil, fmt.Errorf("%w: there is a record %x of no known kind", model.ErrDamaged, key)
	}
	if err := unseal(value, r); err != nil {
		return nil, fmt.Errorf("%s %d: %w", kind, id, err)
	}
	if k, n := r.Key(); k != kind || n != id {
		return nil, fmt.Errorf("%w: %s %d is kept under the number of %s %d", model.ErrDamaged, k, n, kind, id)
	}
	return r, nil
}
