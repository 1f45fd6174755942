/** The page "On this phone". */
import {Shelf} from "./shelf.js";

async function openShelf() {
  const place = document.getElementById("shelf");
  if (place) await new Shelf(place).open();
}

openShelf();
