// Asks the server; what it refuses comes back as words.
export async function post(address, body) {
  const token = document.querySelector('meta[name="kilter-token"]').content;
  try {
    const answer = await fetch(address, {
      method: "POST",
      headers: { "content-type": "application/json", "x-kilter-token": token },
      body: JSON.stringify(body),
    });
    const type = answer.headers.get("content-type") || "";
    const data = type.includes("json") ? await answer.json() : { error: (await answer.text()) || `The server said ${answer.status}.` };
    return { status: answer.status, data };
  } catch {
    return { status: 0, data: { error: "The server does not answer. What you wrote is kept in this browser." } };
  }
}

export function el(name, more = {}, ...inside) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(more)) {
    if (key === "on") for (const [event, run] of Object.entries(value)) made.addEventListener(event, run);
    else if (key === "data") Object.assign(made.dataset, value);
    else if (key in made && key !== "list" && key !== "form") made[key] = value;
    else made.setAttribute(key, value);
  }
  made.append(...inside.filter((part) => part !== null && part !== undefined && part !== ""));
  return made;
}

export function later(run, wait) {
  let timer = 0;
  const soon = (...given) => { clearTimeout(timer); timer = setTimeout(() => run(...given), wait); };
  soon.now = (...given) => { clearTimeout(timer); return run(...given); };
  return soon;
}
