// An entry sheet opens as a modal dialog: the page behind it is out of reach, and the focus goes back to what opened it.
let opener = null;

export function open(dialog) {
  opener = document.activeElement;
  dialog?.showModal();
}

export function closed() {
  if (opener instanceof Element && opener.isConnected) opener.focus({ preventScroll: true });
  opener = null;
}
