/** What the screens of a paper are put together from. */
import {el, theirs} from "./dom.js";
import {CHOICE_LETTERS, NO_ANSWER} from "./quizattempt.js";

export const Q = (key, values) => globalThis.kilterWord(`quiz.${key}`, values);
const SVG = "http://www.w3.org/2000/svg";
/** Smallest ring, as a share of the picture's width: it stays to be seen on a phone. */
const LEAST_RING = 0.03;

const said = (text) => el("span", {lang: theirs()}, text);
/** Letter and words of a choice; a place in a picture is nothing but its letter. */
const named = (n, choice) => [el("b", {}, CHOICE_LETTERS[n]), " ", choice.text === CHOICE_LETTERS[n] ? null : said(choice.text)];

/** The picture without its own numbers; one ring where one place is asked about, else one a choice with its letter. */
function questionFigure(figure, choose) {
  const one = figure.regions.length === 1, least = figure.width * LEAST_RING;
  const sheet = document.createElementNS(SVG, "svg");
  sheet.setAttribute("viewBox", `0 0 ${figure.width} ${figure.height}`);
  sheet.setAttribute("aria-hidden", "true");
  figure.regions.forEach((region, n) => {
    const r = Math.max(least, region.r), group = document.createElementNS(SVG, "g");
    for (const [name, kind] of [["circle", "halo"], ["circle", "ring"]]) {
      const ring = document.createElementNS(SVG, name);
      for (const [key, value] of Object.entries({cx: region.x, cy: region.y, r, class: kind, "stroke-width": least / (kind === "halo" ? 4 : 8)})) ring.setAttribute(key, String(value));
      group.append(ring);
    }
    if (!one) {
      const letter = document.createElementNS(SVG, "text");
      for (const [key, value] of Object.entries({x: region.x, y: region.y, "font-size": least * 1.7, "stroke-width": least / 3})) letter.setAttribute(key, String(value));
      letter.textContent = CHOICE_LETTERS[n];
      group.append(letter);
      group.addEventListener("click", () => choose(n));
    }
    sheet.append(group);
  });
  const image = el("img", {src: figure.src, width: figure.width, height: figure.height, alt: one ? Q("one-place") : Q("places", {n: figure.regions.length})});
  return el("div", {class: "quiz-picture"}, image, sheet);
}

/** A question with its choices; `chosen(index)` is told of a choice. */
export function questionForm(question, given, chosen) {
  const radios = question.choices.map((choice, n) =>
    el("input", {type: "radio", name: "choice", value: n, checked: given === String(n), onchange: () => chosen(n)}));
  const choose = (n) => { radios[n].checked = true; chosen(n); };
  return el("form", {class: "quiz-question", onsubmit: (event) => event.preventDefault()},
    question.figure ? questionFigure(question.figure, choose) : null,
    el("fieldset", {},
      el("legend", {}, said(question.stem)),
      question.choices.map((choice, n) => el("label", {class: "quiz-choice"}, radios[n], named(n, choice)))));
}

/** What was answered, what is right, why, and the step it stands in. */
export function feedback(question, given) {
  const right = given === String(question.key), chosen = given === NO_ANSWER ? null : question.choices[Number(given)];
  const cite = question.cite;
  return el("div", {class: right ? "quiz-right" : "quiz-wrong"},
    el("p", {}, el("b", {}, Q(right ? "right" : "wrong"))),
    right ? null : el("p", {}, `${Q("yours")} `, chosen ? named(Number(given), chosen) : Q("none"), chosen?.why ? [" - ", said(chosen.why)] : null),
    el("p", {}, `${Q("right-is")} `, named(question.key, question.choices[question.key]), question.choices[question.key].why ? [" - ", said(question.choices[question.key].why)] : null),
    cite ? el("p", {class: "quiz-cite"}, `${Q("stands-in", {document: cite.document, revision: cite.revision, number: cite.number})} `, said(cite.title)) : null);
}
