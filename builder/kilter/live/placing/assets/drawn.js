// What lies over the picture, in its pixels: rows of the file, what is being placed, the cross; and the loupe.
import { area, read } from "./line.js";
const SVG = "http://www.w3.org/2000/svg";
const LOUPE = 4; // device pixels of the loupe for one pixel of the picture as it is shown, about

function tag(name, more, words) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(more)) made.setAttribute(key, value);
  if (words !== undefined) made.textContent = words;
  return made;
}

function shape(row, unit, chosen) {
  const group = tag("g", { class: chosen ? `row ${row.tool} on` : `row ${row.tool}` });
  const line = (x1, y1, x2, y2) => group.append(tag("line", { x1, y1, x2, y2, class: "halo" }), tag("line", { x1, y1, x2, y2 }));
  if (row.tool === "item" || row.tool === "motion") {
    group.append(tag("circle", { cx: row.at.x, cy: row.at.y, r: 4 * unit }));
    group.append(tag("text", { x: row.at.x + 7 * unit, y: row.at.y - 5 * unit, "font-size": 15 * unit }, row.tool === "item" ? row.number : `${row.kind} ${row.way}`));
  } else if (row.tool === "scale") {
    line(row.first.x, row.first.y, row.at.x, row.at.y);
    group.append(tag("text", { x: row.at.x, y: row.at.y - 7 * unit, "font-size": 15 * unit }, row.length));
  } else {
    const box = area(row);
    group.append(tag("rect", { ...box, class: "halo" }), tag("rect", box));
    group.append(tag("text", { x: box.x + 4 * unit, y: box.y + 16 * unit, "font-size": 15 * unit }, row.tool));
  }
  return group;
}

export function draw(place, state, now, chosen) {
  const unit = state.width / (place.clientWidth || 1);
  const svg = tag("svg", { viewBox: `0 0 ${state.width} ${state.height}`, preserveAspectRatio: "none" });
  svg.style.setProperty("--unit", unit);
  for (const each of state.rows) {
    const row = read(each.name, each.value);
    if (row && each.line !== chosen) svg.append(shape(row, unit, false));
  }
  if (now.at) {
    const twoPlaces = now.first && now.tool !== "item" && now.tool !== "motion";
    if (twoPlaces || now.tool === "item" || now.tool === "motion") svg.append(shape({ ...now, number: now.number || "?" }, unit, true));
    const { x, y } = now.at, long = 16 * unit, gap = 5 * unit;
    for (const kind of ["halo", ""]) {
      for (const [a, b] of [[-1, 0], [1, 0], [0, -1], [0, 1]]) {
        svg.append(tag("line", { x1: x + a * gap, y1: y + b * gap, x2: x + a * long, y2: y + b * long, class: `cross ${kind}` }));
      }
    }
  }
  place.replaceChildren(svg);
}

export const zoomOf = (image) => LOUPE * (image.clientWidth || 1) / (image.dataset.width || 1);

// The surroundings of the cross, larger; the pixels of the file where the picture has them.
export function loupe(canvas, image, state, at) {
  const ink = canvas.getContext("2d"), side = canvas.width;
  ink.fillStyle = "#777";
  ink.fillRect(0, 0, side, side);
  if (!at || !image.naturalWidth) return;
  const zoom = zoomOf(image) * (side / (canvas.clientWidth || side)); // loupe pixels for one of the source
  const scale = image.naturalWidth / state.width;
  const part = side / zoom;
  ink.imageSmoothingEnabled = zoom / scale < 3;
  ink.drawImage(image, (at.x - part / 2) * scale, (at.y - part / 2) * scale, part * scale, part * scale, 0, 0, side, side);
  for (const [width, colour] of [[6, "#fff"], [2, "#000"]]) {
    ink.lineWidth = width;
    ink.strokeStyle = colour;
    ink.beginPath();
    for (const [a, b] of [[-1, 0], [1, 0], [0, -1], [0, 1]]) {
      ink.moveTo(side / 2 + a * 14, side / 2 + b * 14);
      ink.lineTo(side / 2 + a * side * 0.4, side / 2 + b * side * 0.4);
    }
    ink.stroke();
  }
}
