package model

import (
	"errors"
	"fmt"
)

// Errors that the rest of the program tells apart. Each names what to do next
// where it is wrapped.
var (
	// ErrInUse: another program has the store open.
	ErrInUse = errors.New("the store is in use")
	// ErrDamaged: the store does not hold together.
	ErrDamaged = errors.New("the store is damaged")
	// ErrNewer: the store was written by a newer tuckrow.
	ErrNewer = errors.New("the store was written by a newer tuckrow")
	// ErrNoRoom: no space on disk, or no permission.
	ErrNoRoom = errors.New("no room or no permission")
	// ErrReadOnly: no permission to write, which is one kind of ErrNoRoom;
	// reading may do.
	ErrReadOnly = fmt.Errorf("%w", ErrNoRoom)
	// ErrNothingToUndo: no change is left that could be undone.
	ErrNothingToUndo = errors.New("there is nothing left to undo")
)

// InputError is something the user gave that cannot be used. Its text says
// what to do instead.
type InputError struct{ Text string }

func (e *InputError) Error() string { return e.Text }

// Inputf makes an InputError.
func Inputf(format string, args ...any) error { return &InputError{fmt.Sprintf(format, args...)} }

// FieldError is a value that does not fit its field.
type FieldError struct {
	Field   string
	Value   string
	Problem string
	Hint    string
}

func (e *FieldError) Error() string {
	return fmt.Sprintf("%s %q %s; %s", e.Field, e.Value, e.Problem, e.Hint)
}

// IsInput tells whether err is the user's input to mend.
func IsInput(err error) bool {
	var in *InputError
	var field *FieldError
	return errors.As(err, &in) || errors.As(err, &field)
}
