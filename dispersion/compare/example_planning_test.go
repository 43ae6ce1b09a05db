package compare_test

import (
	"fmt"
	"log"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// Half the gap between two clubs, or 3.5 % of the carry where that is more.
func ExampleSmallestCarry() {
	for _, carry := range []float64{120, 200} {
		smallest, err := compare.SmallestCarry(carry, 1)
		check(err)
		fmt.Printf("at %g yd: %.1f yd\n", carry, smallest)
	}
	// Output:
	// at 120 yd: 5.0 yd
	// at 200 yd: 7.0 yd
}

// A fifth off the radius takes a season, a half off it a lesson.
func ExampleBallsForSpread() {
	for _, ratio := range []float64{0.8, 0.5} {
		balls, err := compare.BallsForSpread(ratio, 0.80, 0.95)
		check(err)
		fmt.Printf("%g times the radius: %d balls a stage\n", ratio, balls)
	}
	// Output:
	// 0.8 times the radius: 90 balls a stage
	// 0.5 times the radius: 12 balls a stage
}

// From one ball in five to one in ten.
func ExampleBallsForMishits() {
	balls, err := compare.BallsForMishits(0.2, 0.1, 0.80, 0.95)
	check(err)
	fmt.Println(balls, "balls a stage")
	// Output: 198 balls a stage
}

// What ten balls a stage can show of a spread: a radius less than half as large.
func ExampleSmallestSpreadShown() {
	ratio, err := compare.SmallestSpreadShown(10, 0.80, 0.95)
	check(err)
	fmt.Printf("%.2f times the radius\n", ratio)
	// Output: 0.46 times the radius
}

// Planned from ten balls of one's own, whose spread is itself hardly known.
func ExamplePlanCarry() {
	plan, err := compare.PlanCarry([][]float64{oldCarries}, 5, 0.80, 0.95)
	check(err)
	fmt.Printf("with %.1f yd: %d balls a stage; with %.1f to %.1f yd: %d to %d\n", plan.SD, plan.Balls, plan.SDBounds.Low, plan.SDBounds.High, plan.Low, plan.High)
	// Output: with 5.8 yd: 22 balls a stage; with 4.0 to 10.5 yd: 11 to 71
}

// A coin for each pair of blocks: false is the old swing, true the new one.
func ExampleBlockOrder() {
	order, err := compare.BlockOrder(3, 1)
	check(err)
	for pair := range 3 {
		fmt.Println(order[2*pair], order[2*pair+1])
	}
	// Output:
	// false true
	// true false
	// true false
}
