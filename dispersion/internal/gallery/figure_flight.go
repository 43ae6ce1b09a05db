package main

import (
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

func meanFlights(d *demo) (chart.Figure, error) {
	all, err := flight.ShotsOf(d.lesson, d.lesson.Shots)
	if err != nil {
		return chart.Figure{}, err
	}
	fit, err := flight.FitCoefficients(all.Shots, flight.Conditions{}, flight.DragAndLift)
	if err != nil {
		return chart.Figure{}, err
	}
	in := chart.MeanFlightsInput{Unit: d.lesson.Unit}
	groups := d.lesson.Groups()
	for _, stage := range []int{firstStage, newStage} {
		g, clean := groups[stage], []lesson.Shot{}
		for i, s := range g.Shots {
			if !g.Mishit[i] {
				clean = append(clean, s)
			}
		}
		shots, err := flight.ShotsOf(d.lesson, clean)
		if err != nil {
			return chart.Figure{}, err
		}
		mean, err := flight.MeanFlightOf(shots.Shots, fit.Model(), fit.Conditions)
		if err != nil {
			return chart.Figure{}, err
		}
		in.Flights = append(in.Flights, chart.NamedFlight{Name: g.Stage.Name, Flight: mean})
	}
	return chart.MeanFlights(in)
}
