// Lengths as the tape tells them: the same rules as `format_length` of lacunar/units.py, which a test holds them to.

/** The smallest count of decimals that shows a mark whole, four at most. */
function decimals(top, bottom) {
  for (let places = 0; places < 4; places++) if ((top * 10 ** places) % bottom === 0) return places;
  return 4;
}

function inches(steps, tape, afterFeet) {
  const isTape = tape.bottom <= 256 && (tape.bottom & (tape.bottom - 1)) === 0;
  if (!isTape) return ((steps * tape.top) / tape.bottom).toFixed(decimals(tape.top, tape.bottom));
  const total = steps * tape.top, whole = Math.floor(total / tape.bottom);
  let top = total % tape.bottom, bottom = tape.bottom;
  if (!top) return String(whole);
  while (top % 2 === 0) (top /= 2), (bottom /= 2);
  return whole || afterFeet ? `${whole} ${top}/${bottom}` : `${top}/${bottom}`;
}

/** A length in mm in words, to the tape's mark. */
function lengthText(mm, tape) {
  const steps = Math.floor(Math.abs(mm) / tape.mark + 0.5), sign = mm < 0 && steps ? "-" : "";
  if (tape.units === "mm") {
    return `${sign}${((steps * tape.top) / tape.bottom).toFixed(decimals(tape.top, tape.bottom))} mm`;
  }
  const foot = (12 * tape.bottom) / tape.top;
  const feet = Math.floor(steps / foot + 1e-9), rest = steps - feet * foot;
  const text = `${sign}${feet ? `${feet} ft ` : ""}${inches(rest, tape, feet > 0)} in`;
  return text.replace(/ 0 in$/, "") || text;
}
