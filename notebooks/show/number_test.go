package show

import "testing"

func TestNumber(t *testing.T) {
	for s, want := range map[string]bool{
		"0": true, "-3.5": true, "\u22123.5": true, "+4": true, "1,204": true, "95 %": true,
		"95%": true, "< 0.001": true, "1e-9": true, "≈ 14": true,
		"": false, "-": false, "inf": false, "NaN": false, "0x10": false, "7-iron": false, "3 yd": false,
		"4 to 11": false, "=1+1": false, "e": false,
	} {
		if got := number(s); got != want {
			t.Errorf("number(%q) = %v, want %v", s, got, want)
		}
	}
}
