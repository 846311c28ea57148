package frame

import (
	"fmt"
	"strings"
	"unicode"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
)

// header keeps the first line, because View is called for every message.
type header struct {
	line  string
	rev   uint64
	w, at int
}

func (r *Root) headerLine() string {
	if h := r.header; h.line == "" || h.rev != r.col.Rev() || h.w != r.w || h.at != r.at {
		where := r.room().Title
		if r.standing != "" {
			where += ", " + r.standing
		}
		r.header = header{headerFor(r.theme, r.title, where, r.col.Steps(), r.w), r.col.Rev(), r.w, r.at}
	}
	return r.header.line
}

// headerFor says where one is at the left and what is at which step at the
// right, in the fullest words that fit.
func headerFor(t *theme.Theme, title, room string, n model.StepCounts, w int) string {
	title, room = cells.Plain(title), cells.Plain(room)
	long, short, brief, least := countsText(t, n)
	for _, try := range []struct{ title, counts string }{
		{title, long}, {title, short}, {"", long}, {"", short}, {title, brief}, {"", brief}, {"", least},
	} {
		where := room
		if try.title != "" {
			where = try.title + ": " + room
		}
		gap := w - cells.Width(where) - cells.Width(try.counts)
		if gap < 2 {
			continue
		}
		styled := t.Heading.Render(room)
		if try.title != "" {
			styled = t.Quiet.Render(try.title+":") + " " + styled
		}
		return styled + strings.Repeat(" ", gap) + figures(t, try.counts)
	}
	return t.Heading.Render(cells.Cut(room, w))
}

// countsText writes how many copies are at which step, four times shorter and
// shorter.
func countsText(t *theme.Theme, n model.StepCounts) (long, short, brief, least string) {
	waiting, all := 0, n[model.Filed]
	var steps, words []string
	for _, s := range model.Steps() {
		waiting += n[s]
		all += n[s]
		steps = append(steps, fmt.Sprintf("to %s %d", s, n[s]))
		words = append(words, fmt.Sprintf("%s %d", s, n[s]))
	}
	dot := " " + t.Glyphs.Dot + " "
	done, lost := fmt.Sprintf("%s %d", model.Filed.Word(), n[model.Filed]), n[model.NotFound]
	if lost > 0 {
		done += fmt.Sprintf("%s%s %d", dot, model.NotFound, lost)
	}
	switch {
	case waiting == 0 && lost > 0:
		return done, done, done, done
	case all == 0:
		const none = "nothing entered yet"
		return none, none, none, "empty"
	case waiting == 0:
		done = fmt.Sprintf("all %d %s", all, model.Filed.Word())
		return done, done, done, done
	}
	long = strings.Join(append(steps, done), dot)
	short = "to " + strings.Join(append(words, done), dot)
	brief = fmt.Sprintf("%d to do%s%s", waiting, dot, done)
	return long, short, brief, fmt.Sprintf("%d to do", waiting)
}

// figures makes the words of a text quieter than its numbers.
func figures(t *theme.Theme, text string) string {
	var b strings.Builder
	for text != "" {
		digits := unicode.IsDigit(rune(text[0]))
		end := strings.IndexFunc(text, func(c rune) bool { return unicode.IsDigit(c) != digits })
		if end < 0 {
			end = len(text)
		}
		style := t.Quiet
		if digits {
			style = t.Plain
		}
		b.WriteString(style.Render(text[:end]))
		text = text[end:]
	}
	return b.String()
}
