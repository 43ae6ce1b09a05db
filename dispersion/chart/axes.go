package chart

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

const tickGap = 4.0 // points between a number and the axis

// axisWidth returns the room that the numbers of the carry axis take.
func (v plan) axisWidth() float64 {
	widest := 0.0
	for _, t := range ticks(v.carry, v.step) {
		widest = max(widest, smallPen.width(v.carryText(t)))
	}
	return widest*noteSlack + tickGap
}

func (v plan) carryText(carry float64) string {
	if v.gain {
		return signed(carry, decimalsOf(v.step))
	}
	return number(carry, decimalsOf(v.step))
}

// upName says what the upward axis is.
func (v plan) upName() string {
	if v.gain {
		return sideways("gain in carry", v.unit)
	}
	return sideways("carry", v.unit)
}

// acrossName says what the axis across is.
func (v plan) acrossName() string {
	if v.gain {
		return sideways("shift to the side", v.unit)
	}
	return sideways("side from the target line", v.unit)
}

// paintCarry writes the numbers left of the plan, which is c.
func (v plan) paintCarry(c draw.Canvas) {
	_, y := v.plot().Transforms(&c)
	for _, t := range ticks(v.carry, v.step) {
		text := v.carryText(t)
		smallPen.write(c, c.Min.X-tickGap-vg.Length(smallPen.width(text)), y(t)-vg.Length(smallPen.size)*0.35, text)
	}
}

// carryName returns where the name of the upward axis stands: in the upper left
// corner of the plan.
func (v plan) carryName(c draw.Canvas) vg.Rectangle {
	w := vg.Length(smallPen.width(v.upName())*noteSlack) + 6
	return vg.Rectangle{
		Min: vg.Point{X: c.Min.X, Y: c.Max.Y - vg.Length(smallPen.leading()) - 2},
		Max: vg.Point{X: c.Min.X + w, Y: c.Max.Y},
	}
}

func (v plan) paintCarryName(c draw.Canvas) {
	c.SetColor(paper)
	c.Fill(v.carryName(c).Path())
	smallPen.write(c, c.Min.X+1, c.Max.Y-vg.Length(smallPen.size), v.upName())
}

// paintSide writes the numbers of the side axis at the top of c, which is as
// wide as the plan: how far, and at either end to which side.
func (v plan) paintSide(c draw.Canvas) {
	x, _ := v.plot().Transforms(&c)
	at := ticks(v.side, v.step)
	free := c.Min.X - 20 // numbers may reach over the axis a little
	for i, t := range at {
		text := number(max(t, -t), decimalsOf(v.step))
		switch {
		case t == 0:
			text = "0"
		case i == 0:
			text += " left"
		case i == len(at)-1:
			text += " right"
		}
		w := vg.Length(smallPen.width(text) * noteSlack)
		from := min(x(t)-w/2, c.Max.X+sheetMargin-2-w)
		if from < free {
			continue
		}
		smallPen.write(c, from, c.Max.Y-vg.Length(smallPen.size)-4, text)
		free = from + w + 4
	}
}
