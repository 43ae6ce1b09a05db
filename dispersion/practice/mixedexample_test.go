package practice_test

import (
	"fmt"
	"log"
	"os"

	"github.com/landfall-golf/landfall/dispersion/practice"
)

// Three days with the old swing, three with the new one, four carries a day.
func ExampleFitMixed() {
	var values []practice.Measured
	for day, carries := range [][]float64{
		{148, 152, 145, 151}, {154, 159, 151, 157}, {149, 144, 150, 147},
		{158, 153, 161, 157}, {155, 149, 153, 157}, {163, 158, 160, 165},
	} {
		stage := "old"
		if day >= 3 {
			stage = "new"
		}
		for _, c := range carries {
			values = append(values, practice.Measured{Session: fmt.Sprint("day ", day+1), Stage: stage, Value: c})
		}
	}
	fit, err := practice.FitMixed(practice.SessionModel("carry", "yd", values), practice.FitOptions{})
	if err != nil {
		log.Fatal(err)
	}
	gain := fit.Fixed[1]
	fmt.Printf("gain %.1f yd, %.1f to %.1f, on %.0f df\n", gain.Estimate, gain.Interval.Low, gain.Interval.High, gain.DF)
	days, err := fit.Repeatability("sessions", 10)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("shot to shot %.1f yd, day to day %.1f (%.1f to %.1f)\n", days.Within.SD, days.Between.SD, days.Between.Interval.Low, days.Between.Interval.High)
	fmt.Printf("two days of ten balls without any change differ by up to %.1f yd\n", days.Change)
	// Output:
	// gain 6.8 yd, -2.4 to 16.0, on 4 df
	// shot to shot 3.2 yd, day to day 3.7 (1.5 to 10.3)
	// two days of ten balls without any change differ by up to 10.7 yd
}

func ExamplePracticeCurve() {
	at := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}
	carry := []float64{141, 144.5, 148, 148.5, 151, 151.5, 154, 153, 154.5, 155, 154, 156}
	c, err := practice.PracticeCurve("carry", "yd", at, carry, 0.95)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("from %.0f towards %.0f yd (%.0f to %.0f), half of the rest every %.1f sessions\n",
		c.Start.Value, c.Plateau.Value, c.Plateau.Interval.Low, c.Plateau.Interval.High, c.HalfLife.Value)
	_, err = practice.PracticeCurve("carry", "yd", at[:9], carry[:9], 0.95)
	fmt.Println(err)
	// Output:
	// from 141 towards 156 yd (155 to 158), half of the rest every 2.7 sessions
	// practice: carry: a curve needs at least 10 sessions, not 9: look at the sessions themselves
}

func ExampleShroutFleiss() {
	r, err := practice.ShroutFleiss([][]float64{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}}, 0.95)
	if err != nil {
		log.Fatal(err)
	}
	for _, c := range []practice.ICC{r.Single1, r.Single2, r.Single3} {
		fmt.Printf("%s %.2f\n", c.Form, c.Value)
	}
	// Output:
	// (1,1) 0.17
	// (2,1) 0.29
	// (3,1) 0.71
}

// The whole of a study: plan, balls under pseudonyms, analysis in one call.
func ExampleAnalysePool() {
	plan, trials, _, err := practice.DemoStudy(1)
	if err != nil {
		log.Fatal(err)
	}
	file, err := os.CreateTemp("", "pool*.csv")
	if err != nil {
		log.Fatal(err)
	}
	defer os.Remove(file.Name())
	if err := practice.WritePool(file, plan, []byte("sixteen bytes or more"), trials); err != nil {
		log.Fatal(err)
	}
	if _, err := file.Seek(0, 0); err != nil {
		log.Fatal(err)
	}
	r, err := practice.AnalysePool(file, plan, practice.FitOptions{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d pupils: %s gains %.1f yd more than %s, %.1f to %.1f\n", r.Pupils, plan.Drills[1], r.Drill.Estimate, plan.Drills[0], r.Drill.Interval.Low, r.Drill.Interval.High)
	// Output:
	// 48 pupils: step and swing gains 4.0 yd more than slow swings, 2.0 to 5.9
}
