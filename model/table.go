package model

import (
	"iter"
	"slices"
)

// chunkRows is how many records share one chunk of a table. A change copies
// the chunks it touches and the list of chunks, so that one entry into 60,000
// costs a few kilobytes, not the whole.
const chunkRows = 256

// token marks chunks as made by one editor, which may write them in place. It
// is not the editor itself, so that a chunk does not keep old revisions alive.
type token struct{ _ byte }

type chunk[T any] struct {
	owner *token
	rows  [chunkRows]*T
}

// Table holds the records of one kind by their number. It is shared between
// revisions and never altered once a change is done.
type Table[T any] struct {
	chunks []*chunk[T]
	n      int
	owner  *token
}

// Len is how many records there are.
func (t *Table[T]) Len() int { return t.n }

// Get gives the record with that number, or nil.
func (t *Table[T]) Get(id uint32) *T {
	if c := int(id / chunkRows); c < len(t.chunks) && t.chunks[c] != nil {
		return t.chunks[c].rows[id%chunkRows]
	}
	return nil
}

// All gives the records in the order of their numbers.
func (t *Table[T]) All() iter.Seq2[uint32, *T] {
	return func(yield func(uint32, *T) bool) {
		for c, ch := range t.chunks {
			if ch == nil {
				continue
			}
			for i, r := range ch.rows {
				if r != nil && !yield(uint32(c*chunkRows+i), r) {
					return
				}
			}
		}
	}
}

// backward gives the numbers that records have, from the highest to the lowest.
func (t *Table[T]) backward() iter.Seq[uint32] {
	return func(yield func(uint32) bool) {
		for c, ch := range slices.Backward(t.chunks) {
			if ch == nil {
				continue
			}
			for i, r := range slices.Backward(ch.rows[:]) {
				if r != nil && !yield(uint32(c*chunkRows+i)) {
					return
				}
			}
		}
	}
}

// set puts or, with nil, removes a record on behalf of an editor.
func (t *Table[T]) set(e *token, id uint32, r *T) {
	if t.owner != e {
		t.chunks, t.owner = append([]*chunk[T](nil), t.chunks...), e
	}
	c := int(id / chunkRows)
	for len(t.chunks) <= c {
		t.chunks = append(t.chunks, nil)
	}
	ch := t.chunks[c]
	if ch == nil {
		ch = &chunk[T]{owner: e}
	} else if ch.owner != e {
		ch = &chunk[T]{owner: e, rows: ch.rows}
	}
	t.chunks[c] = ch
	i := id % chunkRows
	if was := ch.rows[i]; was == nil && r != nil {
		t.n++
	} else if was != nil && r == nil {
		t.n--
	}
	ch.rows[i] = r
}
