package main
import "testing"
func TestTmp(t *testing.T){
	cells, err := simulateSeasons(9, seasonPlans([]int{4,8,20}), 1000)
	if err!=nil {t.Fatal(err)}
	for _,c:=range cells { t.Logf("%-22s %+v %.3f %.3g", c.aim, c.plan, c.coverage, c.width)}
}
