package clean_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
)

// arrived makes rows whose day of arrival could not be read.
func arrived(texts ...string) (rows []model.Entry, cells []clean.Unread) {
	for i, text := range texts {
		rows = append(rows, row("Quillon", fmt.Sprint(100+i), ""))
		cells = append(cells, clean.Unread{Row: i, Field: "added", Heading: "Got on", Text: text, Err: errors.New("it is no day of ours")})
	}
	return rows, cells
}

// A day is read where it can be one alone, by itself or by the others of its column;
// else what the cell says is kept in the notes. The days are invented.
func TestDaysAreReadByTheirColumn(t *testing.T) {
	for _, x := range []struct{ column, want string }{
		{"12.6.2019", "2019-06-12"},
		{"2019/6/2, 2019-6-2", "2019-06-02, 2019-06-02"},
		{"03/04/2019", "Got on: 03/04/2019"},                                                 // either
		{"04/04/2019", "2019-04-04"},                                                         // the same either way
		{"03/04/2019, 25/04/2019", "2019-04-03, 2019-04-25"},                                 // the day comes first
		{"03/04/2019, 04/25/2019", "2019-03-04, 2019-04-25"},                                 // the month does
		{"03/04/2019, 25/04/2019, 04/25/2019", "Got on: 03/04/2019, 2019-04-25, 2019-04-25"}, // the column contradicts itself
		{"03/04/2019, 12.6.2019", "Got on: 03/04/2019, 2019-06-12"},                          // dots say nothing of slashes
		{"03-04-2019, 25-04-2019", "2019-04-03, 2019-04-25"},
		{"June 2020, May 2014, 6/2020, Juni 2020, 2014-05", "2020-06-01, 2014-05-01, 2020-06-01, 2020-06-01, 2014-05-01"},
		{"12 June 2020; 12th Jun 2020; 12-Jun-2020", "2020-06-12; 2020-06-12; 2020-06-12"},
		{"12 jui 2020", "Got on: 12 jui 2020"}, // of juin or juillet
		{"2019-04-03 00:00:00", "2019-04-03"},
		{"31.2.2019", "Got on: 31.2.2019"},
		{"3/4/19", "Got on: 3/4/19"},
		{"2019", "Got on: 2019"},
		{"43558", "Got on: 43558"}, // a spreadsheet's count of days, or anything
		{"a while ago", "Got on: a while ago"},
	} {
		sign := ", "
		if strings.Contains(x.column, ";") {
			sign = "; "
		}
		rows, cells := arrived(strings.Split(x.column, sign)...)
		for _, p := range clean.Propose(listed(t, "Quillon"), rows, cells...) {
			p.Apply(rows)
		}
		var got []string
		for _, en := range rows {
			got = append(got, string(en.Added)+en.Notes)
		}
		if now := strings.Join(got, sign); now != x.want {
			t.Errorf("%q is read as %q, want %q", x.column, now, x.want)
		}
	}
}

// A month without a day is said to be taken for its first.
func TestTheFirstOfAMonthIsSaid(t *testing.T) {
	rows, cells := arrived("June 2020", "03/04/2019", "03/04/2019")
	all := clean.Propose(listed(t, "Quillon"), rows, cells...)
	if len(all) != 2 || all[0].Kind != clean.Day || !strings.Contains(all[0].Why, "first of the month") {
		t.Fatalf("got %+v", all)
	}
	// Cells alike are one proposal, which shows what becomes of them.
	if p := all[1]; p.Kind != clean.Aside || fmt.Sprint(p.Rows, p.Edits) != "[1 2] [{added 03/04/2019 } {notes  Got on: 03/04/2019}]" || !strings.Contains(p.Why, "either of two days") {
		t.Errorf("got %+v", p)
	}
}

// What goes into the notes goes behind what is there, whatever else of the row is
// taken or refused.
func TestCellsThatCannotBeReadAreKeptInTheNotes(t *testing.T) {
	bad := model.FieldError{Field: "cut", Value: "good", Problem: "is not known"}
	rows := []model.Entry{{Publisher: "Quillon", Number: "6123 torn", Notes: "from the hall"}, row("Quillon", "2", "")}
	cells := []clean.Unread{{0, "cut", "Condition", "good", &bad}, {0, "year", "Year", "1970s", errors.New("no year")}, {1, "cut", "Condition", "good", &bad}}
	all := clean.Propose(listed(t, "Quillon"), rows, cells...)
	for _, p := range all {
		if p.Kind == clean.Aside {
			p.Apply(rows)
		}
	}
	if rows[0].Notes != "from the hall; Condition: good; Year: 1970s" || rows[1].Notes != "Condition: good" || rows[0].Number != "6123 torn" {
		t.Errorf("they are %+v", rows)
	}
	if all[0].Why != "it is not known" {
		t.Errorf("it is because %q", all[0].Why)
	}
}

// Whatever order a column has, a day of it that is read is the day that was written,
// or none is read.
func TestADayIsNeverReadAsAnother(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		layout := rapid.SampledFrom([]string{"2/1/2006", "1/2/2006", "02-01-2006", "01-02-2006", "2.1.2006", "2006/1/2", "2 January 2006", "Jan 2, 2006"}).Draw(t, "layout")
		var days []time.Time
		var texts []string
		for range rapid.IntRange(1, 6).Draw(t, "days") {
			d := time.Date(2019, 1, rapid.IntRange(1, 365).Draw(t, "day"), 0, 0, 0, 0, time.UTC)
			days, texts = append(days, d), append(texts, d.Format(layout))
		}
		rows, cells := arrived(texts...)
		for _, p := range clean.Propose(model.NewCollection(), rows, cells...) {
			p.Apply(rows)
		}
		for i, en := range rows {
			if en.Added == "" && en.Notes == "Got on: "+texts[i] {
				continue
			}
			if string(en.Added) != days[i].Format(time.DateOnly) || en.Notes != "" {
				t.Fatalf("%q of %q is read as %q, notes %q", texts[i], texts, en.Added, en.Notes)
			}
		}
	})
}

// A number that may be none is told of, and left alone.
func TestNumbersThatMayBeNoneAreDoubted(t *testing.T) {
	var rows []model.Entry
	for _, number := range []string{"no number", "4.11E+03", "4110/4111", "K123 & K124", "6123", "", "K-123", "04/2019 112", "12/2019", "2019/4", "6123 H5", "p. 42", "12/5"} {
		rows = append(rows, row("Quillon", number, "Cape"))
	}
	var got []string
	for _, d := range clean.Doubts(rows) {
		got = append(got, d.Text+": "+strings.Fields(d.Why)[0]+" "+strings.Fields(d.Why)[1])
	}
	if want := "no number: there is; 4.11E+03: a spreadsheet; 4110/4111: it may; K123 & K124: it may"; strings.Join(got, "; ") != want {
		t.Errorf("doubted are %q, want %q", got, want)
	}
}
