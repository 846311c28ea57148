// Package drafts keeps what is in the making in a room, so that it is there
// again whatever ends the program: a text half typed, a box half read, a shelf
// changed and not saved.
//
// The usual way in is [New] for each room; then [Keeper.LoadDraft] when the room
// is made, [Keeper.Later] as the work goes on, and [Keeper.SaveDraft] when the
// program closes.
//
// Promised: what SaveDraft was given is safe when it returns. What Later was
// given is written aside, and no key waits for it; a kill in between costs the
// latest of it at the most, never what was kept before. Nothing older is ever
// written over something newer.
package drafts

import (
	"fmt"
	"sync"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/frame"
)

// Store keeps drafts while the program is closed.
type Store interface {
	// LoadDraft gives what was kept last under a name, nothing when there is none.
	LoadDraft(name string) ([]byte, error)
	// SaveDraft keeps a draft, with nothing it forgets it, and returns when that
	// is safe.
	SaveDraft(name string, draft []byte) error
}

// Keeper keeps the draft of one room. It is safe for several goroutines.
type Keeper struct {
	store Store
	name  string

	writing sync.Mutex // held while something is written; taken before mu
	mu      sync.Mutex
	latest  []byte
	unsaved bool
}

// New makes the keeper of the draft with a name. Without a store nothing is
// kept.
func New(s Store, name string) *Keeper { return &Keeper{store: s, name: name} }

// LoadDraft gives what was kept, nothing when there is none.
func (k *Keeper) LoadDraft() ([]byte, error) {
	if k.store == nil {
		return nil, nil
	}
	return k.store.LoadDraft(k.name)
}

// SaveDraft keeps a draft, or with nothing forgets it, and returns when that is
// safe.
func (k *Keeper) SaveDraft(draft []byte) error {
	k.take(draft)
	return k.write()
}

// Later has a draft kept by the command that it gives. The command may be lost
// at the end of the program: SaveDraft is for then.
func (k *Keeper) Later(draft []byte) tea.Cmd {
	if k.store == nil {
		return nil
	}
	k.take(draft)
	return func() tea.Msg {
		if err := k.write(); err != nil {
			return frame.Complain{Err: fmt.Errorf("what is in the making could not be kept in case the program ends: %w", err)}
		}
		return nil
	}
}

func (k *Keeper) take(draft []byte) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.latest, k.unsaved = draft, true
}

// write writes the latest there is, whoever calls first.
func (k *Keeper) write() error {
	k.writing.Lock()
	defer k.writing.Unlock()
	k.mu.Lock()
	draft, unsaved := k.latest, k.unsaved
	k.unsaved = false
	k.mu.Unlock()
	if !unsaved || k.store == nil {
		return nil
	}
	err := k.store.SaveDraft(k.name, draft)
	if err != nil {
		k.mu.Lock()
		k.unsaved = true
		k.mu.Unlock()
	}
	return err
}
