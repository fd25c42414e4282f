package job

import (
	"strings"
	"testing"
)

// Values that look like slipped units are asked about, with what the slip would make of
// them: the conversions are those of NIST SP 811, app. B (an inch 25.4 mm, a psi
// 6.894757 kPa, 54 °F are 12.2 °C).
func TestDoubtful(t *testing.T) {
	t.Parallel()
	sound := Job{Engine: Engine{BoreMM: Num(108), StrokeMM: Num(126), RodMM: Num(207), CompressionRatio: Num(17)},
		Injection: &Injection{CrankingRPM: Num(180), AirC: Num(12), AirKPa: Num(101), Cetane: Num(50)}}
	if q := Doubtful(sound); len(q) > 0 {
		t.Errorf("an ordinary engine: %s", q[0].Says)
	}
	if q := Doubtful(Job{}); len(q) > 0 {
		t.Errorf("nothing given: %s", q[0].Says)
	}
	for _, c := range []struct {
		key, want string
		put       func(*Job)
	}{
		{"engine.bore_mm", "4.25 mm is unusual. If inches were meant, it would be 107.9 mm.", func(j *Job) { j.Engine.BoreMM = Num(4.25) }},
		{"injection.air_c", "54 °C is unusual. If °F were meant, it would be 12.2 °C.", func(j *Job) { j.Injection.AirC = Num(54) }},
		{"injection.air_kpa", "14.7 kPa is unusual. If psi were meant, it would be 101.4 kPa.", func(j *Job) { j.Injection.AirKPa = Num(14.7) }},
		{"injection.air_kpa", "29.92 kPa is unusual. If inHg were meant, it would be 101.3 kPa.", func(j *Job) { j.Injection.AirKPa = Num(29.92) }},
		{"injection.air_kpa", "760 kPa is unusual. If mmHg were meant, it would be 101.3 kPa.", func(j *Job) { j.Injection.AirKPa = Num(760) }},
		{"injection.air_kpa", "1.01 kPa is unusual. If bar were meant, it would be 101.3 kPa.", func(j *Job) { j.Injection.AirKPa = Num(1.013) }},
		{"injection.cranking_rpm", "1800 rpm is unusual.", func(j *Job) { j.Injection.CrankingRPM = Num(1800) }},
	} {
		j := sound.Clone()
		c.put(&j)
		q := Doubtful(j)
		if len(q) != 1 || q[0].Key != c.key || !strings.HasSuffix(q[0].Says.String(), c.want) {
			t.Errorf("%s: %v", c.key, q)
		}
	}
}
