package wire

import (
	"context"
	"errors"
	"fmt"
	"io"
)

// ask asks the peer something and waits for the answer, or for the end of the
// command.
func (t *talk) ask(ctx context.Context, q question) (reply, error) {
	t.asking.Lock()
	defer t.asking.Unlock()
	if err := ctx.Err(); err != nil {
		return reply{}, gone(err)
	}
	if err := t.conn.send(kindAsk, q); err != nil { // it may be seen here sooner than where the peer is listened to
		return reply{}, gone(fmt.Errorf("%w: asking it: %v", context.Canceled, err))
	}
	select {
	case r := <-t.answers:
		return r, r.Fault.err()
	case <-ctx.Done():
		return reply{}, gone(ctx.Err())
	}
}

func gone(err error) error { return fmt.Errorf("the other terminal has broken off: %w", err) }

// remote is the files of the peer.
type remote struct {
	ctx  context.Context
	talk *talk
}

func (r remote) Open(name string) (io.ReadCloser, error) {
	a, err := r.talk.ask(r.ctx, question{Op: opOpen, Name: name})
	if err != nil {
		return nil, err
	}
	return &file{ctx: r.ctx, talk: r.talk, id: a.File, size: a.Size}, nil
}

func (r remote) Create(name string, replace bool) (Draft, error) {
	a, err := r.talk.ask(r.ctx, question{Op: opCreate, Name: name, Replace: replace})
	if err != nil {
		return nil, err
	}
	return &file{ctx: r.ctx, talk: r.talk, id: a.File}, nil
}

// file is a file of the peer's, or its input.
type file struct {
	ctx   context.Context
	talk  *talk
	id    uint32
	input bool
	size  int64
	rest  []byte
	end   bool
}

func (f *file) Read(b []byte) (int, error) {
	if len(f.rest) == 0 && !f.end {
		q := question{Op: opRead, File: f.id}
		if f.input {
			q.Op = opInput
		}
		r, err := f.talk.ask(f.ctx, q)
		if err != nil {
			return 0, err
		}
		f.rest, f.end = r.Data, r.End
	}
	n := copy(b, f.rest)
	f.rest = f.rest[n:]
	if n == 0 && f.end && len(b) > 0 {
		return 0, io.EOF
	}
	return n, nil
}

// Size is how many bytes the file had when it was opened; 0: not known.
func (f *file) Size() int64 { return f.size }

func (f *file) Write(b []byte) (int, error) {
	done := 0
	for done < len(b) {
		n := min(mostChunk, len(b)-done)
		if _, err := f.talk.ask(f.ctx, question{Op: opWrite, File: f.id, Data: b[done : done+n]}); err != nil {
			return done, err
		}
		done += n
	}
	return done, nil
}

func (f *file) Keep() error {
	_, err := f.talk.ask(f.ctx, question{Op: opKeep, File: f.id})
	return err
}

func (f *file) Close() error {
	_, err := f.talk.ask(f.ctx, question{Op: opClose, File: f.id})
	return err
}

// errNoFile: a question about a file that was not opened.
var errNoFile = errors.New("there is no such file in this conversation")

// opened is what who types has open for the one that runs the command.
type opened struct {
	input  io.Reader
	files  Files
	last   uint32
	reads  map[uint32]io.ReadCloser
	writes map[uint32]Draft
	buf    [mostChunk]byte
}

// answer does what is asked.
func (o *opened) answer(q question) reply {
	r, err := o.do(q)
	r.Fault = faultOf(err)
	return r
}

func (o *opened) do(q question) (r reply, err error) {
	switch q.Op {
	case opInput:
		return o.read(o.input)
	case opOpen:
		f, err := o.files.Open(q.Name)
		if err != nil {
			return r, err
		}
		o.last++
		o.reads[o.last] = f
		return reply{File: o.last, Size: SizeOf(f)}, nil
	case opCreate:
		f, err := o.files.Create(q.Name, q.Replace)
		if err != nil {
			return r, err
		}
		o.last++
		o.writes[o.last] = f
		return reply{File: o.last}, nil
	case opRead:
		if f := o.reads[q.File]; f != nil {
			return o.read(f)
		}
	case opWrite:
		if f := o.writes[q.File]; f != nil {
			_, err := f.Write(q.Data)
			return r, err
		}
	case opKeep:
		if f := o.writes[q.File]; f != nil {
			return r, f.Keep()
		}
	case opClose:
		return r, o.close(q.File)
	default:
		return r, fmt.Errorf("%w: it asks to %q", errGarbage, q.Op)
	}
	return r, errNoFile
}

func (o *opened) read(from io.Reader) (r reply, err error) {
	n, err := from.Read(o.buf[:])
	r.Data = o.buf[:n]
	if err == io.EOF {
		r.End, err = true, nil
	}
	return r, err
}

func (o *opened) close(id uint32) (err error) {
	if f := o.reads[id]; f != nil {
		err = f.Close()
	}
	if f := o.writes[id]; f != nil {
		err = errors.Join(err, f.Close())
	}
	delete(o.reads, id)
	delete(o.writes, id)
	return err
}

// closeAll closes what was left open, and forgets what was not kept.
func (o *opened) closeAll() {
	for id := range o.reads {
		_ = o.close(id)
	}
	for id := range o.writes {
		_ = o.close(id)
	}
}
