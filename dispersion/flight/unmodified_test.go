package flight

import (
	"context"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// Every function that takes shots, or a fit made of some, leaves them as they were.
func TestInputsStay(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 9))
	before, after := ironMaker().shots(t, rng, 6), ironMaker().changed(Launch{Speed: 3}).shots(t, rng, 7)
	l := read(t, "ball_speed_mph,launch_deg,spin_rpm,carry_yd,side_yd", "90,18,5000,120,3", "91,-2,5000,20,3")
	f, err := FitCoefficients(before, Conditions{}, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	keep := append([]Shot{}, before...)
	keepAfter, keepLesson, keepFit := append([]Shot{}, after...), append(l.Shots[:0:0], l.Shots...), f
	keepFit.Coefficients = append([]Coefficient{}, f.Coefficients...)

	ctx, o := context.Background(), compare.Options{Resamples: 20}
	_, err1 := FitCoefficients(before, Conditions{}, DragAndLift)
	carried, err2 := InAir(before, f, Conditions{Wind: Wind{Along: 3}})
	_, err3 := SplitGain(ctx, before, after, f, o)
	_, err4 := SplitStrike(ctx, before, after, o)
	_, err5 := ShapesOf(ctx, before, LeftHanded, 0, o)
	_, err6 := Sensitivities(ctx, before, f, o)
	_, err7 := MeanFlightOf(before, f.Model(), Conditions{})
	_, err8 := ShotsOf(l, l.Shots)
	_, err9 := GainInAir(ctx, carried, carried, o)
	for i, err := range []error{err1, err2, err3, err4, err5, err6, err7, err8, err9} {
		if err != nil {
			t.Errorf("call %d: %v", i+1, err)
		}
	}
	carried.Shots[0].Carry = -1 // a copy: nothing given changes

	for i, pair := range [][2]any{{before, keep}, {after, keepAfter}, {l.Shots, keepLesson}, {f, keepFit}} {
		if !reflect.DeepEqual(pair[0], pair[1]) {
			t.Errorf("input %d: %+v, was %+v", i, pair[0], pair[1])
		}
	}
}
