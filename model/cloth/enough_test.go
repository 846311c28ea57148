package cloth

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
)

func needs(t *testing.T, text string) []model.Need {
	t.Helper()
	n, err := model.ParseNeeds(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestIsThereEnough(t *testing.T) {
	const sleeve = "A | 10-14 | 45 in | 2 1/4 yd; A | 10-14 | 60 in | 1 5/8 yd; B | 10-14 | 36 in | 3 3/8 yd; B | 10-14 | 45 in | 1 yd | lining"
	for _, x := range []struct {
		width, length string
		oneWay        bool
		want          string
	}{
		{"45 in", "2 1/4 yd", false, "A enough 2 1/4 yd printed; B short 2 3/4 yd by chart; B lining enough 1 yd printed"},
		{"115 cm", "2 m", false, "A short 2 1/4 yd printed; B short 2 3/4 yd by chart; B lining enough 1 yd printed"},
		// 54 in: the 2 1/4 yd printed for 45 in are more than enough
		{"54 in", "2 1/4 yd", false, "A enough 2 1/4 yd printed; B short 2 1/2 yd by chart; B lining enough 1 yd printed"},
		// 54 in: what is 2 1/4 yd at 45 in is 1 7/8, what is 1 5/8 at 60 in is 1 3/4;
		// it may just do
		{"54 in", "1 7/8 yd", false, "A perhaps 1 7/8 yd by chart; B short 2 1/2 yd by chart; B lining enough 1 yd printed"},
		{"45 in", "2 3/8 yd", true, "A short 2 1/2 yd by chart; B short 3 yd by chart; B lining enough 1 1/4 yd by chart"},
		{"30 in", "9 yd", false, "A unknown; B unknown; B lining unknown"},
	} {
		c := &model.Cloth{Width: length(t, x.width), Length: length(t, x.length), OneWay: x.oneWay}
		var got []string
		for _, a := range For(needs(t, sleeve), c, model.Settings{}) {
			text := strings.TrimSpace(a.View+" "+a.For) + " " + string(a.Verdict)
			if a.Need > 0 {
				text += " " + a.Need.Yards() + map[bool]string{true: " printed", false: " by chart"}[a.Printed]
				if a.Spare != c.Length-a.Need {
					t.Errorf("%s of %s: %v are spare of %v less %v", x.length, x.width, a.Spare, c.Length, a.Need)
				}
			}
			if len(a.Why) == 0 || !a.Printed && a.Need > 0 && !strings.Contains(a.Why[0], "estimate") {
				t.Errorf("%s of %s: %s gives the reasons %q", x.length, x.width, text, a.Why)
			}
			got = append(got, text)
		}
		if s := strings.Join(got, "; "); s != x.want {
			t.Errorf("%s of %s, one way %v: %s\nwant %s", x.length, x.width, x.oneWay, s, x.want)
		}
	}
	if got := For(nil, &model.Cloth{Width: 1, Length: 1}, model.Settings{}); len(got) != 0 {
		t.Errorf("a sleeve that says nothing gave %v", got)
	}
}

// More cloth, or wider cloth, never makes an answer worse.
func TestMoreClothIsNeverWorse(t *testing.T) {
	rank := map[Verdict]int{Short: 0, Perhaps: 1, Enough: 2}
	rapid.Check(t, func(t *rapid.T) {
		var list []model.Need
		yards := model.Length(rapid.IntRange(16, 40).Draw(t, "eighths")) * eighth
		for _, w := range rapid.SampledFrom([][]int{{45}, {36}, {60}, {45, 60}, {36, 45, 54}}).Draw(t, "widths") {
			e, err := Convert(yards, 36*inch, model.Length(w)*inch, false, model.Settings{})
			if err != nil {
				t.Fatal(err)
			}
			list = append(list, model.Need{Width: model.Length(w) * inch, Length: e.Length})
		}
		c := model.Cloth{Width: model.Length(rapid.IntRange(35, 65).Draw(t, "width")) * inch, Length: model.Length(rapid.IntRange(8, 60).Draw(t, "length")) * eighth,
			OneWay: rapid.Bool().Draw(t, "one way")}
		a, longer := For(list, &c, model.Settings{})[0], c
		longer.Length += eighth
		if b := For(list, &longer, model.Settings{})[0]; rank[b.Verdict] < rank[a.Verdict] {
			t.Fatalf("%+v of %v is %v, and with more of it %v", c, list, a, b)
		}
		if c.OneWay {
			c.OneWay = false
			if b := For(list, &c, model.Settings{})[0]; rank[b.Verdict] < rank[a.Verdict] {
				t.Fatalf("%+v of %v is %v, and one way %v", c, list, b, a)
			}
		}
		if a.Verdict == Unknown || fmt.Sprint(a.Why) == "[]" {
			t.Fatalf("%+v of %v is %v", c, list, a)
		}
	})
}

// Widths are told in the unit that the owner reads.
func TestWidthsAreToldInTheOwnersUnit(t *testing.T) {
	list := needs(t, "A | 10 | 45 in | 2 yd")
	for units, want := range map[string]string{"in": "narrower cloth, 45 in", "mm": "narrower cloth, 114.3 cm"} {
		got := For(list, &model.Cloth{Width: 60 * inch, Length: 3 * 36 * inch}, model.Settings{Units: units})
		if len(got) != 1 || !strings.Contains(got[0].Why[0], want) {
			t.Errorf("in %s: %+v, want %q", units, got, want)
		}
	}
	_, err := Convert(36*inch, 30*inch, 45*inch, false, model.Settings{Units: "in"})
	if err == nil || !strings.Contains(err.Error(), "no cloth of 30 in") {
		t.Errorf("got %v", err)
	}
}
