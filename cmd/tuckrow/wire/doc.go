// Package wire lets a command that is typed in a second terminal be run by the
// program that has the store open: it carries the command's arguments there,
// and what it reads and writes back and forth, over a Unix socket.
//
// The usual way in is [Dial] and [Session.Run] for who types a command, and
// [Listen], [Server.Serve] and [Server.Close] for who has the store.
//
// What goes over the socket are frames: a byte that says the kind, four bytes
// of length, most significant first, and at most [mostFrame] bytes. A
// conversation is always this:
//
//	who types                 who has the store
//	hello: version, arguments
//	                          ready: the store's revision  (or refused: why)
//	go
//	                          out, err: what the command prints
//	                          ask: read the input, open, read, create, write, keep a file
//	answer: to the ask
//	cancel (when interrupted)
//	                          exit: the code
//
// Promised: a command is not begun before its "go" has come, so whoever has
// not sent that yet can try again; files that a command names are opened by
// who typed it, so they mean what they mean in that terminal; what a command
// does not ask for is not read from its input; nothing that a peer sends, and
// no peer that stops sending or reading, does more harm than to its own
// conversation; and none but processes of the same user are spoken to.
package wire
