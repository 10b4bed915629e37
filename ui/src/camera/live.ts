/** The camera inside the app: as large as the sensor gives, captured to JPEG. */

/** Of a photo as JPEG, 0 to 1. */
export const QUALITY = 0.92;

/** `width` and `height`: what is wanted of it, px. */
export async function openCamera(width = 4000, height = 3000): Promise<MediaStream> {
  return navigator.mediaDevices.getUserMedia({
    audio: false,
    video: {
      facingMode: { ideal: 'environment' },
      width: { ideal: width },
      height: { ideal: height },
    },
  });
}

export function closeCamera(stream: MediaStream | null): void {
  for (const track of stream?.getTracks() ?? []) track.stop();
}

/** The frame that is seen now, in the camera's own size. */
export function capture(video: HTMLVideoElement): Promise<Blob> {
  const canvas = document.createElement('canvas');
  canvas.width = video.videoWidth;
  canvas.height = video.videoHeight;
  canvas.getContext('2d')?.drawImage(video, 0, 0);
  return new Promise((resolve, reject) => {
    canvas.toBlob(
      (blob) => (blob ? resolve(blob) : reject(new Error('no picture'))),
      'image/jpeg',
      QUALITY,
    );
  });
}

type Torch = MediaTrackCapabilities & { torch?: boolean };

export function hasTorch(stream: MediaStream): boolean {
  const track = stream.getVideoTracks()[0];
  return Boolean((track?.getCapabilities?.() as Torch | undefined)?.torch);
}

export async function setTorch(stream: MediaStream, on: boolean): Promise<void> {
  const constraint = { advanced: [{ torch: on } as MediaTrackConstraintSet] };
  await stream.getVideoTracks()[0]?.applyConstraints(constraint);
}
