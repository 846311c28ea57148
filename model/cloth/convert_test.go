package cloth

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
)

// printed is the chart as shared/checks.md gives it (extension-service chart,
// two copies agree), yards at 35-36, 39, 41, 44-45, 50, 52-54 and 58-60 inches.
const printed = `1 3/4|1 1/2|1 1/2|1 3/8|1 1/4|1 1/8|1; 2|1 3/4|1 3/4|1 5/8|1 1/2|1 3/8|1 1/4; 2 1/4|2|2|1 3/4|1 5/8|1 1/2|1 3/8;
2 1/2|2 1/4|2 1/4|2 1/8|1 3/4|1 3/4|1 5/8; 2 7/8|2 1/2|2 1/2|2 1/4|2|1 7/8|1 3/4; 3 1/8|2 3/4|2 3/4|2 1/2|2 1/4|2|1 7/8;
3 3/8|3|2 7/8|2 3/4|2 3/8|2 1/4|2; 3 3/4|3 1/4|3 1/8|2 7/8|2 5/8|2 3/8|2 1/4; 4 1/4|3 1/2|3 3/8|3 1/8|2 3/4|2 5/8|2 3/8;
4 1/2|3 3/4|3 5/8|3 3/8|3|2 3/4|2 5/8; 4 3/4|4|3 7/8|3 5/8|3 1/4|2 7/8|2 3/4; 5|4 1/4|4 1/8|3 7/8|3 3/8|3 1/8|2 7/8`

func length(t *testing.T, text string) model.Length {
	t.Helper()
	l, err := model.ParseLength(text)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// From every width to every other each row gives what the chart says, and a
// quarter yard more where the widths are far apart.
func TestEveryValueOfTheChart(t *testing.T) {
	rows := strings.Split(printed, ";")
	wide := [][]string{{"35 in", "36 in", "90 cm"}, {"39 in"}, {"41 in"}, {"44 in", "45 in", "115 cm"}, {"50 in"}, {"52 in", "54 in"}, {"58 in", "60 in", "150 cm"}}
	if len(rows) != 12 {
		t.Fatalf("the chart has %d rows", len(rows))
	}
	for _, row := range rows {
		cells := strings.Split(strings.TrimSpace(row), "|")
		for i, from := range cells {
			for j, to := range cells {
				for _, w := range wide[i] {
					for _, v := range wide[j] {
						want, why := length(t, to+" yd"), []string{"an estimate by the conversion chart"}
						if i == j {
							want = length(t, from+" yd")
						}
						if d := inches(length(t, w)) - inches(length(t, v)); d >= largeDifference || -d >= largeDifference {
							want += length(t, "1/4 yd")
							why = append(why, "1/4 yd (23 cm) added for the large difference of width")
						}
						got, err := Convert(length(t, from+" yd"), length(t, w), length(t, v), false, model.Settings{})
						if err != nil || got.Length != want || !slices.Equal(got.Why, why) {
							t.Errorf("%s yd at %s is %s at %s (%q, %v), want %s", from, w, got.Length.Yards(), v, got.Why, err, want.Yards())
						}
					}
				}
			}
		}
	}
}

func TestBetweenAndBeyond(t *testing.T) {
	for _, x := range []struct {
		need, from, to string
		oneWay         bool
		want           string
		why            string
	}{
		{"2 1/4 yd", "45 in", "45 in", true, "2 1/2 yd", "runs one way"},
		{"1 3/4 yd", "36 in", "60 in", true, "1 1/2 yd", "large difference"},
		// between 1 3/8 and 1 1/4, 2 of 5 inches along: 1 13/40, rounded up
		{"1 3/4 yd", "36 in", "47 in", false, "1 3/8 yd", "119.4 cm lies between two columns"},
		// between 1 3/4 -> 1 3/8 and 2 -> 1 5/8
		{"1 7/8 yd", "36 in", "45 in", false, "1 1/2 yd", "between two rows"},
		{"3/4 yd", "36 in", "45 in", false, "5/8 yd", "shorter than the chart goes"}, // 6 * 11/14 = 4.7 eighths
		{"10 yd", "36 in", "45 in", false, "7 3/4 yd", "longer than the chart goes"}, // 80 * 31/40 = 62 eighths
		{"3 yd", "39 in", "70 in", false, "2 1/4 yd", "177.8 cm is wider than the chart goes"},
	} {
		got, err := Convert(length(t, x.need), length(t, x.from), length(t, x.to), x.oneWay, model.Settings{})
		if err != nil || got.Length.Yards() != x.want || !strings.Contains(strings.Join(got.Why, "; "), x.why) || got.Why[0] != "an estimate by the conversion chart" {
			t.Errorf("%s at %s is %s at %s (%q, %v), want %s, since %q", x.need, x.from, got.Length.Yards(), x.to, got.Why, err, x.want, x.why)
		}
	}
	for _, x := range [][2]string{{"20 in", "45 in"}, {"45 in", "34 in"}} {
		if got, err := Convert(yard, length(t, x[0]), length(t, x[1]), false, model.Settings{}); err == nil {
			t.Errorf("from %s to %s gave %v, though the chart knows nothing of it", x[0], x[1], got)
		}
	}
}

// Wider cloth never needs more, a longer need never less, and one-way cloth
// always a quarter yard more.
func TestMoreIsNeverLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.Custom(func(t *rapid.T) model.Length { return inch * model.Length(rapid.IntRange(35, 70).Draw(t, "inches")) })
		from, to, need := width.Draw(t, "from"), width.Draw(t, "to"), model.Length(rapid.IntRange(1, 1_000_000).Draw(t, "need"))
		convert := func(need, to model.Length, oneWay bool) model.Length {
			e, err := Convert(need, from, to, oneWay, model.Settings{})
			if err != nil {
				t.Fatal(err)
			}
			return e.Length
		}
		got := convert(need, to, false)
		if more := convert(need, to, true); more != got+yard/4 {
			t.Fatalf("one way it is %v, both ways %v", more, got)
		}
		if longer := convert(need+model.Length(rapid.IntRange(0, 200_000).Draw(t, "more")), to, false); longer < got {
			t.Fatalf("%v of %v is %v at %v, more of it %v", need, from, got, to, longer)
		}
		// The addition for a large difference is for being unsure, not for cloth.
		wider := to + inch
		if was, is := inches(from)-inches(to), inches(from)-inches(wider); (was <= -largeDifference) == (is <= -largeDifference) && (was >= largeDifference) == (is >= largeDifference) {
			if got := convert(need, wider, false); got > convert(need, to, false) {
				t.Fatalf("%v of %v is %v at %v, and %v at %v", need, from, convert(need, to, false), to, got, wider)
			}
		}
	})
}
