/** A page with a paper in its data block: on the site to practise, in a package for a learning platform. */
import {Platform, findPlatform} from "./quizplatform.js";
import {quizCopy} from "./quizkeep.js";
import {QuizView} from "./quizview.js";

export async function quizPage() {
  const data = document.getElementById("quiz-data"), root = document.getElementById("quiz");
  if (!data || !root) return;
  const quiz = JSON.parse(data.textContent ?? "");
  const platform = new Platform(quiz.practice ? null : findPlatform(window));
  const view = new QuizView(root, quiz, platform, await quizCopy(`${quiz.module};${quiz.digest}`));
  addEventListener("pagehide", () => platform.leave(view.attempt?.done ?? false));
  await view.begin();
}

quizPage();
