package samples

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// Times of day and dates, against what package time of the standard library makes of them.
func TestMoment(t *testing.T) {
	for _, c := range []struct{ layout, zone string }{
		{"15:04:05", ""}, {"15:04:05.000", ""}, {"15:04:05.000000", ""}, {"2006-01-02T15:04:05.000", ""}, {"2006-01-02 15:04:05.000000", ""},
		{time.RFC3339, ""}, {time.RFC3339Nano, ""}, {"2006/01/02 15:04:05", ""}, {"2006-01-02T15:04:05.000000Z07:00", "+02:00"}, {"2006-01-02T15:04:05,000", ""},
	} {
		at := time.Date(2024, 2, 29, 12, 34, 56, 789012345, time.UTC)
		if c.zone != "" {
			at = at.In(time.FixedZone("", 2*3600))
		}
		text := at.Format(c.layout)
		want, err := time.Parse(c.layout, text)
		if err != nil {
			t.Fatal(err)
		}
		days, seconds, _, ok := moment([]byte(text))
		wantDays := int(want.UTC().Unix() / day)
		if !strings.Contains(c.layout, "2006") {
			wantDays = 0
		}
		wantSeconds := float64(want.UTC().UnixNano()-want.UTC().Truncate(24*time.Hour).UnixNano()) / 1e9
		if got := float64(days-wantDays)*day + seconds; !ok || math.Abs(got-wantSeconds) > 1e-8 {
			t.Errorf("%q is day %d, %.9f s (%v), want day %d, %.9f s", text, days, seconds, ok, wantDays, wantSeconds)
		}
	}
	for _, text := range []string{"", "12", "12:34", "12:60:00", "123:00:00", "12:34:61", "12:34:56x", "2024-13-01 00:00:00", "-1:00:00", "12:34:-5", "2024-05-06", "1:2:3:4"} {
		if _, _, _, ok := moment([]byte(text)); ok {
			t.Errorf("%q is taken for a time", text)
		}
	}
}

// Recordings whose time is written as a time of day, with and without a date, also through
// midnight.
func TestReaderTakesMoments(t *testing.T) {
	begin := time.Date(2024, 5, 6, 23, 59, 59, 999_500_000, time.UTC)
	for _, c := range []struct{ layout, head, delimiter string }{
		{"15:04:05.000000", "Time", ","}, {"2006-01-02T15:04:05.000000", "timestamp", ","}, {"2006-01-02 15:04:05.000000", "", ";"}, {"2006-01-02 15:04:05.000000", "date time", " "},
		{"2006-01-02T15:04:05.000000Z", "Zeit", "\t"}, {"15:04:05,000000", "Uhrzeit", ";"}, {"2006-01-02;15:04:05.000000", "Date;Time", ";"},
	} {
		var s strings.Builder
		if c.head != "" {
			fmt.Fprintf(&s, "%s%sa%sb\n", strings.ReplaceAll(c.head, " ", c.delimiter), c.delimiter, c.delimiter)
		}
		for i := range 400 {
			fmt.Fprintf(&s, "%s%s%d%s%d\n", begin.Add(time.Duration(i)*10*time.Microsecond).Format(c.layout), c.delimiter, i%7, c.delimiter, i%3)
		}
		r, b, err := readAll(strings.NewReader(s.String()), Options{})
		if err != nil || len(b.Time) != 400 || len(b.Values) != 2 {
			t.Errorf("%s: %d rows of %d channels, %v", c.layout, len(b.Time), len(b.Values), err)
			continue
		}
		for i, at := range b.Time {
			if math.Abs(at-float64(i)*1e-5) > 1e-9 {
				t.Errorf("%s: row %d at %.9f s", c.layout, i, at)
				break
			}
		}
		if !r.format.UnitGiven || b.Values[0][9] != 2 {
			t.Errorf("%s: %+v", c.layout, r.format)
		}
	}
}

// A time that stands is named, and is no matter where the interval is given.
func TestTimeThatStands(t *testing.T) {
	rows := strings.Repeat("12,1\n12,5\n12,3\n", 10)
	_, _, err := readAll(strings.NewReader("Time (s),a\n"+rows), Options{})
	if !errors.Is(err, ErrStands) || !strings.Contains(fmt.Sprint(err), `column 1 ("Time")`) {
		t.Errorf("%v", err)
	}
	for _, head := range []string{"Time (s),a\n", "Sample interval,1e-4\nTime (s),a\n"} {
		o := Options{}
		if !strings.Contains(head, "interval") {
			o.IntervalS = 1e-4
		}
		_, b, err := readAll(strings.NewReader(head+rows), o)
		if err != nil || len(b.Time) != 30 || math.Abs(b.Time[29]-29e-4) > 1e-12 {
			t.Errorf("%q: %v, %v", head, b.Time, err)
		}
	}
}
