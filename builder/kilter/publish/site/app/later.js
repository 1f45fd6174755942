/** The script that only the end of a run needs: no part of the first load, fetched as soon as the page stands. */
const HANDING = "assets/run-end.js";
let coming = null;

/**
 * How records are made and handed over; asked for again where it did not arrive.
 * @returns {Promise<{finishedRecord: Function, markHanded: Function, recordTable: Function, waysOut: Function}>} rejected without a connection
 */
export function handingParts() {
  coming ||= new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = new URL(HANDING, document.baseURI).href;
    script.onload = () => resolve(globalThis.kilterHanding);
    script.onerror = () => {
      script.remove();
      coming = null;
      reject(new Error(HANDING));
    };
    document.head.append(script);
  });
  return coming;
}

/** Have it on the phone before the connection goes; what fails here is asked for again at the end. */
export function handingAhead() {
  const ask = () => handingParts().catch(() => {});
  if (document.readyState === "complete") ask();
  else window.addEventListener("load", ask, {once: true});
}
