package compare

import (
	"encoding/json"
	"errors"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

func mustJSON(t testing.TB, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestEffectAsJSON(t *testing.T) {
	e := carryEffect(3.5, 7.5, 18)
	e.Warnings = []error{errors.New("few"), errors.New("wide")}
	e.Before, e.After, e.Seed, e.Resamples, e.Method = 140, 143.5, math.MaxUint64, 0, "m"
	want := `{"name":"carry_gain","unit":"yd","method":"m","before_value":140,"after_value":143.5,"n_before":10,"n_after":10,` +
		`"estimate":3.5,"null":0,"low":-4,"high":11,"level":0.95,"df":18,"less_is_better":false,"no_better":false,` +
		`"p":null,"p_floor":null,"seed":18446744073709551615,"resamples":0,"warnings":["few","wide"]}`
	if got := mustJSON(t, e); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	e.Warnings, e.HasP, e.P, e.PFloor = nil, true, 0.25, 0.1
	var back map[string]any
	if err := json.Unmarshal([]byte(mustJSON(t, e)), &back); err != nil {
		t.Fatal(err)
	}
	if list, ok := back["warnings"].([]any); !ok || len(list) != 0 || back["p"] != 0.25 || back["p_floor"] != 0.1 {
		t.Errorf("without warnings, with p: %v", back)
	}
}

// No NaN, no infinity and no estimate outside its interval gets out.
func TestUnsoundEffectsStayInside(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for i := range 8 {
			e := carryEffect(0, 1, 18)
			*[]*float64{&e.Before, &e.After, &e.Estimate, &e.Interval.Low, &e.Interval.High, &e.DF, &e.P, &e.PFloor}[i] = bad
			if got, err := e.checked(); !errors.Is(err, dispersion.ErrOverflow) || got.Name != "" {
				t.Errorf("field %d is %v: %v", i, bad, err)
			}
		}
	}
}
