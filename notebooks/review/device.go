package review

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A device is what the device is said to err by, in the unit of the lesson.
type device struct {
	stated      bool
	carry, side compare.DeviceError
}

// assumedError is the random error of a device of which nothing is said, in
// yards. An example, no source.
const assumedError = 2

func exampleDevice(unit lesson.Unit) device {
	example := compare.DeviceError{Random: math.Round(10*assumedError*0.9144/unit.Metres()) / 10}
	return device{carry: example, side: example}
}

// readDevice reads what a device errs by: for carry and side how far single shots
// are off (a standard deviation) and, after that, by how much all shots of a
// stage may be, such as "carry 2 1, side 1.5".
func readDevice(text string) (device, error) {
	d := device{stated: true}
	for part := range strings.SplitSeq(text, ",") {
		words := strings.Fields(part)
		var at *compare.DeviceError
		switch {
		case len(words) < 2 || len(words) > 3:
		case words[0] == "carry":
			at = &d.carry
		case words[0] == "side":
			at = &d.side
		}
		if at == nil {
			return device{}, badDevice(part)
		}
		for i, number := range []*float64{&at.Random, &at.Shift} {
			if i+1 == len(words) {
				break
			}
			v, err := strconv.ParseFloat(words[i+1], 64)
			if err != nil || !(v >= 0 && v < 1e6) {
				return device{}, badDevice(part)
			}
			*number = v
		}
	}
	return d, nil
}

func badDevice(part string) error {
	return fmt.Errorf("review: the device error %s can't be read: name carry or side, then how far single shots are off, then, if you like, how far all shots of a stage may be, such as \"carry 2 1, side 1.5\"", quoted(strings.TrimSpace(part)))
}

// gainSentence says what is left of a gain if the device was off by more in one
// stage than in the other; nothing where no such shift is stated.
func (d device) gainSentence(gain compare.Effect) ([]string, error) {
	if d.carry.Shift == 0 {
		return nil, nil
	}
	behind, err := compare.GainBehindError(gain, d.carry)
	if err != nil {
		return nil, err
	}
	return []string{fmt.Sprintf("With a device that may be off by %.3g %s from one stage to the other: %s", d.carry.Shift, gain.Unit, lowerFirst(behind.Sentence()))}, nil
}

// behindSentence says how much tighter or wider the pattern of a pair is once the
// random error of the device is taken off both; nothing where no ratio can be had
// at all.
func (r *Review) behindSentence(ctx context.Context, p lesson.Pair) ([]string, error) {
	before, errBefore := cleanOf(p.Before)
	after, errAfter := cleanOf(p.After)
	d := r.device
	if errBefore != nil || errAfter != nil || d.carry.Random == 0 && d.side.Random == 0 {
		return nil, nil
	}
	shown, err := compare.AreaRatio(ctx, before, after, r.options)
	if err != nil {
		return nil, ctx.Err()
	}
	s := "What the device errs by was not said; were it "
	if d.stated {
		s = "With a device error of "
	}
	s += fmt.Sprintf("%.3g %s a shot in carry and %.3g in side, ", d.carry.Random, r.Lesson.Unit, d.side.Random)
	behind, err := compare.AreaBehindError(ctx, before, after, d.side.Random, d.carry.Random, r.options)
	switch {
	case errors.Is(err, compare.ErrHidden):
		return []string{s + "a pattern would be no larger than that error: nothing can be said of what is behind it."}, nil
	case err != nil:
		return nil, ctx.Err()
	}
	root := func(i dispersion.Interval) string {
		return fmt.Sprintf("%.2f to %.2f", math.Sqrt(i.Low), math.Sqrt(i.High))
	}
	return []string{s + fmt.Sprintf("the radius behind it would be %.2f times the old one (%s) where %.2f (%s) is shown, both for normal shots.",
		math.Sqrt(behind.Estimate), root(behind.Interval), math.Sqrt(shown.Estimate), root(shown.Interval))}, nil
}

// speedSentence says whether the longer shots of the like stages of a pair are
// the wilder ones; nothing where too few were hit.
func (r *Review) speedSentence(ctx context.Context, p lesson.Pair) ([]string, error) {
	var stages []*dispersion.Group
	for _, s := range r.likeStages(p) {
		if s.CleanShots != nil && s.CleanShots.N() >= 3 {
			stages = append(stages, s.CleanShots)
		}
	}
	check, err := compare.SpeedAgainstAccuracy(ctx, stages, r.options)
	if err != nil {
		return nil, ctx.Err()
	}
	return []string{check.Sentence()}, nil
}
