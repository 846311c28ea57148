package storage

import (
	"bytes"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"example.org/tuckrow/model"
	"github.com/dgraph-io/badger/v4"
)

// stretch is a piece of the records, by their keys.
type stretch struct {
	from, to []byte // the first key that can be in it, and the first behind it
	records  []model.Record
	state    state // what they come to
	bad      error // of the record behind the last
	done     chan struct{}
}

// stretches parts all records into pieces to be read at once: patterns and
// copies by their numbers, which mostly run on without gaps, and what there is
// little of by kind.
func stretches(c model.Counters) []*stretch {
	const worth = 2 << 10 // fewer records are not worth a piece
	cuts := [][]byte{{keyRecord}}
	for _, k := range []struct {
		kind model.Kind
		most uint64
	}{{model.KindPattern, uint64(c.Pattern)}, {model.KindCopy, uint64(c.Copy)}} {
		n := min(4*uint64(runtime.GOMAXPROCS(0)), 1+k.most/worth)
		for i := range n {
			cuts = append(cuts, recordKey(k.kind, uint32(i*k.most/n)))
		}
	}
	cuts = append(cuts, recordKey(model.KindRow, 0), []byte{keyRecord + 1})
	all := make([]*stretch, len(cuts)-1)
	for i := range all {
		all[i] = &stretch{from: cuts[i], to: cuts[i+1], done: make(chan struct{})}
	}
	return all
}

// decoded gives all records in the order of their keys. They are read and
// decoded by as many goroutines as there are processors. What they come to is
// in st when all were given, and in bad what is wrong with the record after the
// last that was.
func (s *Store) decoded(c model.Counters, st *state, bad *error) func(yield func(model.Record) bool) {
	return func(yield func(model.Record) bool) {
		all := stretches(c)
		var begun atomic.Int64
		var stopped atomic.Bool
		var working sync.WaitGroup
		defer working.Wait()
		defer stopped.Store(true)
		for range min(runtime.GOMAXPROCS(0), len(all)) {
			working.Go(func() {
				var q quick
				for i := int(begun.Add(1)) - 1; i < len(all) && !stopped.Load(); i = int(begun.Add(1)) - 1 {
					s.decode(all[i], &q)
				}
			})
		}
		for _, x := range all {
			<-x.done
			for _, r := range x.records {
				if !yield(r) {
					return
				}
			}
			st.n, st.sum = st.n+x.state.n, st.sum+x.state.sum
			if x.bad != nil {
				*bad = x.bad
				return
			}
		}
	}
}

// decode reads a piece of the records, up to one that is damaged.
func (s *Store) decode(x *stretch, q *quick) {
	defer close(x.done)
	x.bad = s.db.View(func(txn *badger.Txn) error {
		// Values lie in the tables themselves, so there is nothing to prefetch.
		it := txn.NewIterator(badger.IteratorOptions{Prefix: []byte{keyRecord}})
		defer it.Close()
		for it.Seek(x.from); it.Valid() && bytes.Compare(it.Item().Key(), x.to) < 0; it.Next() {
			key := it.Item().Key()
			err := it.Item().Value(func(value []byte) error {
				r, err := q.decode(key, value)
				if err == nil {
					x.state.add(key, value)
					x.records = append(x.records, r)
				}
				return err
			})
			if err != nil {
				return err
			}
		}
		return nil
	})
}

var known = model.Kinds()

// decode reads a record.
func (q *quick) decode(key, value []byte) (model.Record, error) {
	kind, id, ok := parseRecordKey(key)
	if !ok || !slices.Contains(known, kind) {
		return nil, fmt.Errorf("%w: there is a record %x of no known kind", model.ErrDamaged, key)
	}
	body, err := checked(value)
	if err != nil {
		return nil, fmt.Errorf("%s %d: %w", kind, id, err)
	}
	r := q.record(kind, body)
	if r == nil {
		r = kind.New()
		if err := decodeBody(body, r); err != nil {
			return nil, fmt.Errorf("%s %d: %w", kind, id, err)
		}
	}
	if k, n := r.Key(); k != kind || n != id {
		return nil, fmt.Errorf("%w: %s %d is kept under the number of %s %d", model.ErrDamaged, k, n, kind, id)
	}
	return r, nil
}
