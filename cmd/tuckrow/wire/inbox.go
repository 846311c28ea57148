package wire

type frame struct {
	kind    kind
	payload []byte
}

// inbox takes frames off a connection as they come, however long it is until
// somebody looks at them: who sends must not have to wait until the reader of
// a pager has read on.
type inbox struct {
	frames chan frame // closed at the end
	err    error      // why it ended; read when frames is closed
	gone   chan struct{}
}

func newInbox(c *conn) *inbox {
	b := &inbox{frames: make(chan frame), gone: make(chan struct{})}
	come := make(chan frame)
	go func() {
		defer close(come)
		for {
			k, payload, err := c.read()
			if err != nil {
				b.err = err
				return
			}
			select {
			case come <- frame{k, payload}:
			case <-b.gone:
				return
			}
		}
	}()
	go b.keep(come)
	return b
}

// keep holds frames until they are taken.
func (b *inbox) keep(come <-chan frame) {
	defer close(b.frames)
	var held []frame
	for come != nil || len(held) > 0 {
		var to chan frame
		var next frame
		if len(held) > 0 {
			to, next = b.frames, held[0]
		}
		select {
		case f, ok := <-come:
			if !ok {
				come = nil
				continue
			}
			held = append(held, f)
		case to <- next:
			held = held[1:]
		case <-b.gone:
			return
		}
	}
}

// empty lets go of what nobody will look at.
func (b *inbox) empty() { close(b.gone) }
