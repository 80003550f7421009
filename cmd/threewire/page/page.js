"use strict";
// The page works without this. It lets a file be dropped anywhere, tells of
// files that are too large before they are sent, and says that work is under
// way.
const form = document.getElementById("upload");
if (form) {
  const said = document.getElementById("progress");
  const main = document.getElementById("capture");
  const size = () => Array.from(form.querySelectorAll("input[type=file]"))
    .reduce((sum, input) => Array.from(input.files).reduce((s, f) => s + f.size, sum), 0);
  document.addEventListener("dragover", (e) => {
    e.preventDefault();
    document.body.classList.add("over");
  });
  document.addEventListener("dragleave", (e) => {
    if (!e.relatedTarget) document.body.classList.remove("over");
  });
  document.addEventListener("drop", (e) => {
    e.preventDefault();
    document.body.classList.remove("over");
    const box = e.target.closest ? e.target.closest(".drop") : null;
    const input = (box && box.querySelector("input[type=file]")) || main;
    const count = e.dataTransfer.files.length;
    if (count > 1 && !input.multiple) {
      said.textContent = "This field takes one file.";
      return;
    }
    if (count > 0) {
      input.files = e.dataTransfer.files;
      said.textContent = count === 1 ? e.dataTransfer.files[0].name + " is chosen." : count + " captures of one actuator are chosen.";
      form.querySelector("button").focus();
    }
  });
  form.addEventListener("submit", (e) => {
    if (size() > Number(form.dataset.largest)) {
      e.preventDefault();
      said.textContent = "Larger than " + form.dataset.largestIs + ": pack the file with gzip (.csv.gz), or record at fewer readings per second (1000 are plenty).";
      return;
    }
    said.textContent = "Reading and judging …";
  });
  // Coming back by the browser's arrow must not say that work is under way.
  window.addEventListener("pageshow", () => { said.textContent = ""; });
}
