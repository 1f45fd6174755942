// Remarks from the machine: an answer is sent, and the page fetches itself anew.
"use strict";
document.addEventListener("click", async (event) => {
  const box = event.target.closest(".live-remark");
  if (!box || event.target.tagName !== "BUTTON") return;
  const trouble = box.querySelector('[role="alert"]');
  const body = JSON.stringify({ id: box.dataset.remark, words: box.querySelector("input").value });
  const token = document.querySelector('meta[name="kilter-token"]').content;
  try {
    const answer = await fetch("/remarks/answer", { method: "POST", headers: { "content-type": "application/json", "x-kilter-token": token }, body });
    const said = await answer.json();
    if (answer.ok) box.remove();
    else trouble.textContent = said.error;
  } catch {
    trouble.textContent = "Not sent: is kilter serve running?";
  }
});
