/* Rows typed by keyboard: Enter goes to the beginning of the next row, with Shift of the row before, with Ctrl it keeps
   everything. Without scripts Tab goes through all cells. */
document.addEventListener("keydown", function (event) {
  var cell = event.target;
  if (event.key !== "Enter" || event.isComposing || cell.tagName !== "INPUT") return;
  var row = cell.closest("tbody[data-rows] > tr");
  if (!row) return;
  event.preventDefault();
  if (event.ctrlKey || event.metaKey) {
    var keep = cell.form.querySelector("button.main");
    if (keep) cell.form.requestSubmit(keep);
    return;
  }
  do {
    row = event.shiftKey ? row.previousElementSibling : row.nextElementSibling;
  } while (row && !row.querySelector("input:not([readonly])"));
  var next = row && row.querySelector("input:not([readonly])");
  if (next) { next.focus(); next.select(); }
});
/* A drawing broader than a phone is moved so that the pin meant can be seen. */
document.querySelectorAll(".plate[data-at]").forEach(function (plate) {
  plate.scrollLeft = plate.dataset.at * plate.scrollWidth - plate.clientWidth / 2;
});
