package exchange

import (
	"context"
	"io"
	"sync/atomic"
)

// Steady reads a file until its context ends, and knows how far it is.
type Steady struct {
	ctx  context.Context
	r    io.Reader
	size int64
	read atomic.Int64
}

// NewSteady reads a file of so many bytes.
func NewSteady(ctx context.Context, r io.Reader, size int64) *Steady {
	return &Steady{ctx: ctx, r: r, size: size}
}

// Read implements io.Reader. The error is the context's where that has ended.
func (s *Steady) Read(b []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := s.r.Read(b)
	s.read.Add(int64(n))
	return n, err
}

// Share is how much of the file has been read, in hundredths. Any goroutine may
// ask.
func (s *Steady) Share() int { return int(100 * s.read.Load() / max(1, s.size)) }
