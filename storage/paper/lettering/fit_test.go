package lettering

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var anyWord = rapid.OneOf(
	rapid.SampledFrom(strings.Fields("Wrap dress with a half-lined yoke (and) scalloped hem, 6123 H5 — Donaudampfschifffahrtsgesellschaft a I")),
	rapid.SampledFrom(strings.Fields("Σχέδιο Выкройка платья שמלת מעטפת فستان سهرة फ़्रॉक ड्रेस ชุดเดรสผู้หญิง 連衣裙連衣裙 ワンピース 원피스 e\u0301 🧵 12")),
	rapid.StringMatching(`[A-Za-z0-9/.,'-]{1,25}`))

// Whatever the text and the room: the lines go in; what is not cut is there to
// the last letter; what is cut says so and ends in an ellipsis; nothing is set
// smaller than the least, or smaller than it had to be.
func TestFittedTextNeverOverflowsAndIsNeverCutSilently(t *testing.T) {
	s := New()
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(anyWord, 0, 12).Draw(t, "words"), " ")
		st := Style{Weight: Weight(rapid.IntRange(0, 1).Draw(t, "weight")), Size: rapid.Float64Range(6, 30).Draw(t, "size"), Least: rapid.Float64Range(5, 12).Draw(t, "least")}
		room := Room{W: rapid.Float64Range(0, 90).Draw(t, "w"), H: rapid.Float64Range(0, 30).Draw(t, "h"), Lines: rapid.IntRange(0, 4).Draw(t, "lines")}
		b := s.Fit(text, st, room)
		if b.Width() > room.W+slack || b.Height() > room.H+slack || room.Lines > 0 && len(b.Lines) > room.Lines {
			t.Fatalf("%d lines of %.2f x %.2f mm in a room of %.2f x %.2f for %d lines", len(b.Lines), b.Width(), b.Height(), room.W, room.H, room.Lines)
		}
		if b.Size > st.Size || b.Size < min(st.Size, st.Least) {
			t.Fatalf("set in %v points, asked for %v down to %v", b.Size, st.Size, st.Least)
		}
		set := ""
		for _, l := range b.Lines {
			set += l.Text
		}
		whole, set := squeezed(b.Whole), squeezed(set)
		if !b.Cut {
			if set != whole {
				t.Fatalf("not cut, but %q of %q is there", set, whole)
			}
			if larger := min(st.Size, b.Size+step); larger > b.Size {
				if _, ok := s.wrap(s.breaker.pieces(b.Whole), st.Weight, larger, room); ok {
					t.Fatalf("set in %v points, and %v would have gone in", b.Size, larger)
				}
			}
			return
		}
		if b.Size > st.Least && b.Size < st.Size {
			t.Fatalf("cut at %v points, before the least of %v", b.Size, st.Least)
		}
		if before, ok := strings.CutSuffix(set, ellipsis); len(b.Lines) > 0 && (!ok || !strings.HasPrefix(whole, before) || before == whole) {
			t.Fatalf("cut to %q of %q", set, whole)
		}
	})
}

func squeezed(s string) string { return strings.ReplaceAll(s, " ", "") }

func TestATitleIsSetSmallerThenShortenedBehindAWord(t *testing.T) {
	s, st := New(), Style{Size: 12, Least: 8}
	const title = "Half-circle shift dress with a scalloped hem"
	for _, x := range []struct {
		w    float64
		says string
		size float64
	}{
		{100, title, 12},
		{80, title, 11},
		{70, title, 9.5},
		{50, "Half-circle shift dress with a…", 8},
		{28, "Half-circle shift…", 8},
		{16, "Half-circle…", 8},
		{8, "Half…", 8},
		{5, "H…", 8},
		{2.5, "…", 8},
		{1, "", 8},
	} {
		b := s.Fit(title, st, Room{W: x.w, H: 20, Lines: 1})
		says := ""
		for _, l := range b.Lines {
			says += l.Text
		}
		if says != x.says || b.Size != x.size || b.Cut != (x.says != title) || b.Whole != title {
			t.Errorf("in %v mm: %q in %v points, cut: %v; want %q in %v points", x.w, says, b.Size, b.Cut, x.says, x.size)
		}
	}
}

func TestMoreLinesComeBeforeSmallerLetters(t *testing.T) {
	b := New().Fit("Half-circle shift dress with a scalloped hem", Style{Size: 12, Least: 8}, Room{W: 55, H: 20})
	if len(b.Lines) != 2 || b.Size != 12 || b.Lines[1].Text != "scalloped hem" {
		t.Errorf("%d lines in %v points, the last %q", len(b.Lines), b.Size, b.Lines[len(b.Lines)-1].Text)
	}
}
