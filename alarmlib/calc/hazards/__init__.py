"""Where smoke, heat and carbon monoxide alarms are, seen from beds and cookers."""
