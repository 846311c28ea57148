// Package supervisor keeps a terminal usable whatever happens to the program
// that draws on it. The program runs as a child of a small parent, which is the
// same program, waits, and gives the terminal back when the child cannot: when
// it is killed, when a goroutine panics that nobody guards, when the system
// takes a page of a mapped file away.
//
// The usual way in is [Run] for the parent and [Inside] for the child, which
// calls [Child.Done] at its end: a child that ends without that has broken off.
//
// Promised: INT, TERM, HUP and QUIT that come to the parent come to the child,
// and the parent ends after the child. A child that stops stops the parent, so
// that the shell goes on, unless there is no shell to go on (the parent leads
// its session or nobody would continue it). A child whose parent is gone hears
// of it. What the child writes to its standard error is not drawn over the
// screen; it is there at the end.
package supervisor
