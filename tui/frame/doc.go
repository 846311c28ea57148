// Package frame is the frame of the interface: the root, which is the only
// tea.Model, with the header, the message line, the footer and the help around
// one screen at a time; and the one place from which the store is written.
//
// The usual way in is [Run] with the rooms of the house. A screen implements
// [Screen], embeds an [Outbox], and tells the root what it wants:
//
//	type Intake struct {
//		frame.Outbox
//		...
//	}
//
//	func (s *Intake) save() { s.Tell(frame.Write{Seq: s.seq, Change: add}) }
//
// What a screen tells, the root takes before the same Update ends. A message
// that comes out of a command instead may be overtaken by one told later, and
// may be lost when the program is quit: so writes are told, and commands are
// for what may be lost.
//
// Promised: each message is delivered once. Writes are done one at a time and
// in the order in which they were told; each is done exactly once, also when
// the user quits, the terminal goes away or a signal ends the program. An error
// stays to be read until it is put away. Esc throws nothing away. A view is
// never wider or taller than the terminal.
package frame
