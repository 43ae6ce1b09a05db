package practice
import "testing"
func TestTmp(t *testing.T){
	r := readReference(t)
	for name, m := range referenceModels(r) {
		f, _ := FitMixed(m, FitOptions{})
		s, err := f.SpreadIntervals()
		t.Log(name, f.Fixed, s, err, f.Warnings)
	}
}
