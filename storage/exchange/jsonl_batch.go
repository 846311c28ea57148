package exchange

import (
	"iter"
	"runtime"
	"sync"

	"example.org/tuckrow/model"
)

// batch is a run of lines that one goroutine decodes, since decoding is what
// takes longest.
type batch struct {
	from    int // line of the first
	lines   [][]byte
	records []model.Record
	err     error // what is wrong with the line behind the records
	decoded chan struct{}
}

// perBatch is enough lines to be worth a goroutine.
const perBatch = 256

// records gives the records in their order, up to a good last line or an error.
func (l *lines) records() iter.Seq2[model.Record, error] {
	return func(yield func(model.Record, error) bool) {
		batches, enough := make(chan *batch, runtime.GOMAXPROCS(0)), make(chan struct{})
		var reader sync.WaitGroup
		reader.Go(func() { l.read(batches, enough) })
		defer reader.Wait() // nothing is to touch the file any more
		defer close(enough)
		for b := range batches {
			<-b.decoded
			for i, r := range b.records {
				if l.at = b.from + i; !yield(r, nil) {
					return
				}
			}
			if b.err != nil {
				l.at = b.from + len(b.records)
				yield(nil, b.err)
				return
			}
		}
	}
}

// read sends batches until the last line, or until it is enough.
func (l *lines) read(batches chan<- *batch, enough <-chan struct{}) {
	defer close(batches)
	for done := false; !done; {
		b := &batch{from: l.n + 1, decoded: make(chan struct{})}
		done = l.fill(b)
		go b.decode()
		select {
		case batches <- b:
		case <-enough:
			return
		}
	}
}

// fill reads the lines of a batch. It is done at the last line of the file, or
// at an error.
func (l *lines) fill(b *batch) (done bool) {
	for len(b.lines) < perBatch {
		line, err := l.next()
		if err == nil && isTail(line) {
			if err = l.check(line); err == nil {
				return true
			}
		}
		if err != nil {
			b.err = err
			return true
		}
		l.sum.Write(line)
		b.lines = append(b.lines, line)
	}
	return false
}

// decode turns the lines into records, up to the first that is none.
func (b *batch) decode() {
	defer close(b.decoded)
	b.records = make([]model.Record, 0, len(b.lines))
	for _, line := range b.lines {
		r, err := ParseRecord(line)
		if err != nil {
			b.err = err
			return
		}
		b.records = append(b.records, r)
	}
	b.lines = nil
}
